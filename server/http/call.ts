import type { Readable } from 'node:stream';
import type { CheckedRequestOf, EndpointName, EndpointNameOf, ENDPOINTS, ResponseOf } from '../domain/api/endpoints.ts';
import type { Outcome } from '../domain/index.ts';
import type { KnownSession, OpenedSession, Visitor } from '../services/open-sessions.ts';

/** Endpoints that the upload door answers itself. */
type UploadEndpointName = {
  [Name in EndpointName]: (typeof ENDPOINTS)[Name] extends { isUpload: true } ? Name : never;
}[EndpointName];
export type HandledEndpointName = Exclude<EndpointName, UploadEndpointName>;

type CallerOf<Name extends EndpointName> = (typeof ENDPOINTS)[Name]['access'] extends 'anybody'
  ? KnownSession | null
  : KnownSession;

/** One request, checked: what a handler works with. */
export interface Call<Name extends EndpointName> extends CheckedRequestOf<Name> {
  readonly caller: CallerOf<Name>;
  readonly visitor: Visitor;
  /** Address that the caller's browser knows the program by. */
  readonly origin: string;
  /** Keeps or forgets the session in the caller's browser. */
  readonly keepSession: (opened: OpenedSession) => void;
  readonly forgetSession: () => void;
}

export interface FileAnswer {
  readonly mediaType: string;
  readonly body: Uint8Array | Readable;
  readonly sizeBytes?: number;
  /** A name to save it under; without one it is shown in place. */
  readonly fileName?: string;
  /** True when the address will never show anything else. */
  readonly isImmutable: boolean;
}

/** A stream of events: the first at once, another after each change, closed after the last. */
export interface EventFeed<Event> {
  readonly name: string;
  read(): Promise<Outcome<Event>>;
  isLast(event: Event): boolean;
  follow(onChange: () => void): () => void;
}

type AnswerOf<Name extends EndpointName> =
  Name extends EndpointNameOf<'json'>
    ? ResponseOf<Name>
    : Name extends EndpointNameOf<'events'>
      ? EventFeed<ResponseOf<Name>>
      : Name extends EndpointNameOf<'file'>
        ? FileAnswer
        : null;

type Handler<Name extends EndpointName> = (call: Call<Name>) => Promise<Outcome<AnswerOf<Name>>>;

/** One handler for each endpoint of the table: the compiler sees a missing one. */
export type Handlers = { readonly [Name in HandledEndpointName]: Handler<Name> };
export type HandlersOf<Name extends HandledEndpointName> = Pick<Handlers, Name>;
