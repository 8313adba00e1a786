import type { z } from 'zod';

/** Reads JSON of a column; rows are written by this program, so what does not fit is a broken invariant and throws. */
export const readJson = <Schema extends z.ZodType>(schema: Schema, text: string): z.output<Schema> =>
  schema.parse(JSON.parse(text));
export const readJsonOrNull = <Schema extends z.ZodType>(
  schema: Schema,
  text: string | null,
): z.output<Schema> | null => (text === null ? null : readJson(schema, text));
export const writeJsonOrNull = (value: unknown): string | null =>
  value === null || value === undefined ? null : JSON.stringify(value);

export const flag = (is: boolean): 0 | 1 => (is ? 1 : 0);

/** The columns of a change that were given; the others stay. */
export function given<Columns extends Record<string, unknown>>(columns: Columns): Partial<Columns> {
  return Object.fromEntries(Object.entries(columns).filter(([, value]) => value !== undefined)) as Partial<Columns>;
}

/** What a text holds as JSON; null where it is none, as in a row that was damaged. */
export function jsonOrNull(text: string | null): unknown {
  try {
    return JSON.parse(text ?? 'null');
  } catch {
    return null;
  }
}
