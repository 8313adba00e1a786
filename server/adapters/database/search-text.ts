import { sql } from 'kysely';
import type { RawBuilder, SqlBool } from 'kysely';

/** What searching looks through: lower case, without accents. */
export const searchText = (...parts: readonly string[]): string => plain(parts.join(' '));

const plain = (text: string): string => text.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase();

/** Words that must all occur; null when nothing is searched for. */
export function matchesWords(column: string, q: string | undefined): RawBuilder<SqlBool> | null {
  return occurIn(column, plain(q ?? ''));
}

/** The same in a column that was not made for searching: accents count there, and the case of letters beyond A to Z. */
export const occursInText = (column: string, q: string | undefined): RawBuilder<SqlBool> | null =>
  occurIn(column, q ?? '');

function occurIn(column: string, text: string): RawBuilder<SqlBool> | null {
  const words = text
    .split(/\s+/)
    .filter((word) => word !== '')
    .slice(0, 8);
  if (words.length === 0) return null;
  const patterns = words.map((word) => `%${word.replace(/[\\%_]/g, (sign) => `\\${sign}`)}%`);
  return sql<SqlBool>`(${sql.join(
    patterns.map((pattern) => sql`${sql.ref(column)} like ${pattern} escape '\\'`),
    sql` and `,
  )})`;
}
