import { z } from 'zod';
import { describeApi, openApiPath } from '../../server/http/open-api.ts';
import { ENDPOINTS } from '../../server/domain/api/endpoints.ts';
import type { EndpointName } from '../../server/domain/api/endpoints.ts';

type JsonSchema = Parameters<typeof z.fromJSONSchema>[0];
interface Described {
  readonly responses: Readonly<Record<string, { content?: Readonly<Record<string, { schema?: object }>> }>>;
}

export const apiDocument = describeApi('0.0.0-test');

/** References of the document, in the place where JSON Schema looks for them. */
const localised = (schema: object): object =>
  JSON.parse(JSON.stringify(schema).replaceAll('#/components/schemas/', '#/$defs/')) as object;
const $defs = localised(apiDocument.components?.schemas ?? {}) as Record<string, object>;

const known = new Map<string, z.ZodType>();

/**
 * What is wrong with an answer by the published document alone; null when it fits. The document's JSON Schema is read back
 * into a checker, so that what was generated is checked and not what it was generated from.
 */
export function misfitOf(
  name: EndpointName,
  answer: { status: number; mediaType: string; body: unknown },
): string | null {
  const { path, method } = ENDPOINTS[name];
  const operation = (apiDocument.paths?.[openApiPath(path)] as Record<string, Described> | undefined)?.[method];
  if (operation === undefined) return `${name} is not described`;
  const status = String(answer.status) in operation.responses ? String(answer.status) : 'default';
  const content = operation.responses[status].content ?? {};
  if (Object.keys(content).length === 0) return answer.body === undefined ? null : `${status} has no content`;
  const described = content[answer.mediaType] as { schema?: object } | undefined;
  if (described === undefined) return `${answer.mediaType} is not described for ${status}`;
  if (!answer.mediaType.endsWith('json')) return null;
  const key = `${name} ${status}`;
  const schema =
    known.get(key) ?? z.fromJSONSchema({ ...localised(described.schema ?? {}), $defs } as unknown as JsonSchema);
  known.set(key, schema);
  const parsed = schema.safeParse(answer.body);
  return parsed.success ? null : `${key}: ${parsed.error.message}`;
}
