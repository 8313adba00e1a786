import type { ZodType } from 'zod';
import { failure, success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';
import { readInputText } from './files.ts';

/**
 * Reads a JSON file and checks it; the fault names the first thing that does not fit.
 *
 * @param role the caller's word for the file, as the operator knows it
 */
export async function readJsonInput<T>(
  path: string,
  role: string,
  schema: ZodType<T>,
  code: 'history-malformed' | 'trial-malformed' | 'quote-malformed' | 'settings-malformed',
): Promise<Outcome<T>> {
  const text = await readInputText(path, role);
  if (!text.ok) return text;
  let json: unknown;
  try {
    json = JSON.parse(text.value);
  } catch (error) {
    return failure({ code, path: '', detail: `it is not JSON (${(error as Error).message})` });
  }
  const parsed = schema.safeParse(json);
  if (parsed.success) return success(parsed.data);
  const [issue] = parsed.error.issues;
  return failure({ code, path: issue.path.join('.'), detail: detailOf(issue, json) });
}

/** What is wrong, with the value that came where it is short enough to show. */
function detailOf({ path, message }: { path: readonly PropertyKey[]; message: string }, json: unknown): string {
  const value = path.reduce<unknown>((at, key) => (at as Record<PropertyKey, unknown> | null | undefined)?.[key], json);
  if (value === undefined) return 'is missing';
  return typeof value === 'object' && value !== null
    ? `does not fit: ${message}`
    : `is ${JSON.stringify(value)}: ${message}`;
}
