import { ENDPOINTS, pathOf } from '@domain/api/endpoints.ts';
import type { EndpointName, EndpointNameOf, RequestOf, ResponseOf } from '@domain/api/endpoints.ts';
import { words } from '../i18n/words.ts';
import { ProblemError } from './problem-error.ts';

type Part = 'params' | 'body';
type Needed<Name extends EndpointName> = {
  readonly [P in Part as RequestOf<Name>[P] extends undefined ? never : P]: RequestOf<Name>[P];
};
/** What a call of an endpoint sends: its parameters and body where it has them, a query where wanted. */
export type Sent<Name extends EndpointName> = Needed<Name> & { readonly query?: Partial<RequestOf<Name>['query']> };
type LooseSent = Readonly<Partial<Record<Part | 'query', unknown>>>;

/** Calls an endpoint of the table by its name. Throws a {@link ProblemError} with a sentence to show. */
export async function call<Name extends EndpointNameOf<'json'> | EndpointNameOf<'empty'>>(
  name: Name,
  sent: Sent<Name>,
  signal?: AbortSignal,
): Promise<ResponseOf<Name>> {
  const { body } = sent as LooseSent;
  const response = await send(urlOf(name, sent), {
    method: ENDPOINTS[name].method.toUpperCase(),
    ...(body === undefined ? {} : { body: JSON.stringify(body), headers: { 'Content-Type': 'application/json' } }),
    ...(signal === undefined ? {} : { signal }),
  });
  if (!response.ok) throw await readProblem(response);
  if (response.status === 204) return undefined as ResponseOf<Name>;
  return (await response.json()) as ResponseOf<Name>;
}

/** Address of an endpoint, with its parameters and query: for pictures, downloads and event streams. */
export function urlOf<Name extends EndpointName>(name: Name, sent: Omit<Sent<Name>, 'body'>): string {
  const { params, query } = sent as LooseSent;
  const path = pathOf(name, (params ?? {}) as Record<string, string | number>);
  const search = new URLSearchParams();
  for (const [key, value] of Object.entries((query ?? {}) as Record<string, string | number | undefined>)) {
    if (value !== undefined && value !== '') search.set(key, String(value));
  }
  return search.size === 0 ? path : `${path}?${search.toString()}`;
}

async function send(url: string, init: RequestInit): Promise<Response> {
  try {
    return await fetch(url, { ...init, credentials: 'same-origin' });
  } catch (error) {
    if (error instanceof DOMException && error.name === 'AbortError') throw error;
    throw new ProblemError({ code: 'no-signal', detail: words.errors.noSignal });
  }
}

async function readProblem(response: Response): Promise<ProblemError> {
  const { status } = response;
  try {
    const { code, detail, correlationId } = (await response.json()) as Partial<Record<string, string>>;
    if (code !== undefined && detail !== undefined) {
      return new ProblemError({ code, detail, status, ...(correlationId === undefined ? {} : { correlationId }) });
    }
  } catch {
    // A proxy's own page is no problem document.
  }
  return new ProblemError({ code: 'unknown', detail: words.errors.unreadable(status), status });
}
