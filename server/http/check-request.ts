import { z } from 'zod';
import type { Endpoint } from '../domain/api/endpoint.ts';
import { failure, success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';

type Place = 'path' | 'query' | 'body';
type Parts = Readonly<Record<'params' | 'query' | 'body', unknown>>;

/** Checks what was sent against the endpoint; a name that the endpoint does not know is refused, not passed over. */
export function checkRequest(endpoint: Endpoint, sent: Parts): Outcome<Parts> {
  const params = checkPart(endpoint.params, sent.params, 'path');
  if (!params.ok) return params;
  const query = checkPart(endpoint.query ?? NOTHING, sent.query, 'query');
  if (!query.ok) return query;
  const body = checkPart(endpoint.body, sent.body, 'body');
  if (!body.ok) return body;
  return success({ params: params.value, query: query.value, body: body.value });
}

const NOTHING = z.object({});

function checkPart(schema: z.ZodType | undefined, value: unknown, place: Place): Outcome<unknown> {
  if (schema === undefined) return success(undefined);
  const strict = schema instanceof z.ZodObject ? schema.strict() : schema;
  const parsed = strict.safeParse(value);
  if (parsed.success) return success(parsed.data);
  const issue = parsed.error.issues[0];
  const detail = issue.code === 'unrecognized_keys' ? `there is no "${issue.keys.join('", "')}" here` : issue.message;
  return failure({ code: 'request-malformed', place, path: issue.path.map(String).join('.'), detail: plain(detail) });
}

/** A detail stands inside a sentence. */
const plain = (message: string): string => message.replace(/\.$/, '');
