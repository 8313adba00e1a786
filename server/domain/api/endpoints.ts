import type { z } from 'zod';
import { ASSESSMENT_ENDPOINTS } from './assessment-endpoints.ts';
import type { Answer, Endpoint } from './endpoint.ts';
import { PEOPLE_ENDPOINTS } from './people-endpoints.ts';
import { PHOTO_ENDPOINTS } from './photo-endpoints.ts';
import { PLANNING_ENDPOINTS } from './planning-endpoints.ts';
import { RECORD_ENDPOINTS } from './record-endpoints.ts';
import { SHOP_ENDPOINTS } from './shop-endpoints.ts';
import { WORK_ENDPOINTS } from './work-endpoints.ts';

/**
 * The whole interface between client and server: who may call what, what goes in, what comes out. The server mounts,
 * checks and documents exactly these; the client calls them by name.
 */
export const ENDPOINTS = {
  ...PEOPLE_ENDPOINTS,
  ...WORK_ENDPOINTS,
  ...PHOTO_ENDPOINTS,
  ...ASSESSMENT_ENDPOINTS,
  ...SHOP_ENDPOINTS,
  ...RECORD_ENDPOINTS,
  ...PLANNING_ENDPOINTS,
} as const satisfies Record<string, Endpoint>;

type Endpoints = typeof ENDPOINTS;
export type EndpointName = keyof Endpoints;

type Sent<Name extends EndpointName, Part extends string> =
  Endpoints[Name] extends Record<Part, infer Schema extends z.ZodType> ? Schema : undefined;
type Given<Schema> = Schema extends z.ZodType ? z.input<Schema> : undefined;
type Taken<Schema> = Schema extends z.ZodType ? z.output<Schema> : undefined;

/** What a caller sends: defaults may be left out. Parts that an endpoint does not have are undefined. */
export interface RequestOf<Name extends EndpointName> {
  readonly params: Given<Sent<Name, 'params'>>;
  readonly query: Given<Sent<Name, 'query'>>;
  readonly body: Given<Sent<Name, 'body'>>;
}
/** What a handler receives: checked, defaults filled in. */
export interface CheckedRequestOf<Name extends EndpointName> {
  readonly params: Taken<Sent<Name, 'params'>>;
  readonly query: Taken<Sent<Name, 'query'>>;
  readonly body: Taken<Sent<Name, 'body'>>;
}
/** The JSON, or the data of one event, that an endpoint answers with; undefined for files and empty answers. */
export type ResponseOf<Name extends EndpointName> = Endpoints[Name]['answer'] extends infer A
  ? A extends { kind: 'json'; schema: infer Schema extends z.ZodType }
    ? z.output<Schema>
    : A extends { kind: 'events'; event: infer Schema extends z.ZodType }
      ? z.output<Schema>
      : undefined
  : never;
/** Endpoints by the kind of their answer. */
export type EndpointNameOf<Kind extends Answer['kind']> = {
  [Name in EndpointName]: Endpoints[Name]['answer']['kind'] extends Kind ? Name : never;
}[EndpointName];

/** The path of an endpoint with its parameters filled in. */
export function pathOf(name: EndpointName, params: Readonly<Record<string, string | number>> = {}): string {
  return ENDPOINTS[name].path.replace(/:([A-Za-z]+)/g, (_, key: string) => {
    if (!(key in params)) throw new Error(`Expected a value for "${key}" of ${name}`);
    return encodeURIComponent(String(params[key]));
  });
}
