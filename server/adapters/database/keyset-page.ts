import { sql } from 'kysely';
import type { SelectQueryBuilder, SqlBool } from 'kysely';
import type { Page, PageQuery } from '../../domain/api/paging.ts';
import type { Database } from './database-schema.ts';

/** Where a page starts: after the row with this sort value and id. */
type Place = readonly [value: string | number, id: string | number];

function readPlace(cursor: string): Place | null {
  try {
    const parsed: unknown = JSON.parse(Buffer.from(cursor, 'base64url').toString('utf8'));
    if (!Array.isArray(parsed) || parsed.length !== 2) return null;
    const [value, id] = parsed as [unknown, unknown];
    return isPlain(value) && isPlain(id) ? [value, id] : null;
  } catch {
    return null;
  }
}
const isPlain = (value: unknown): value is string | number => typeof value === 'string' || typeof value === 'number';
const writePlace = (place: Place): string => Buffer.from(JSON.stringify(place)).toString('base64url');

export interface KeysetColumns<Key extends string> {
  /** Column of each sort key, with its table: `jobs.name`. It is never null in the rows of the list. */
  readonly sort: Readonly<Record<Key, string>>;
  readonly id: string;
}

/**
 * Runs a list query for one page by the keyset method: the rows after a place in the order, never a count of rows to skip,
 * so that all pages cost alike. A cursor that cannot be read starts from the front.
 */
export async function keysetPage<T extends keyof Database, Row, Key extends string>(
  query: SelectQueryBuilder<Database, T, Row>,
  page: Pick<PageQuery<Key>, 'sort' | 'limit' | 'cursor'>,
  columns: KeysetColumns<Key>,
): Promise<Page<Row>> {
  const isDescending = page.sort.startsWith('-');
  const key = (isDescending ? page.sort.slice(1) : page.sort) as Key;
  const [value, id] = [sql.ref<string | number>(columns.sort[key]), sql.ref<string>(columns.id)];
  const direction = isDescending ? 'desc' : 'asc';
  let paged = query
    .select([value.as('keyset_value'), id.as('keyset_id')])
    .orderBy(value, direction)
    .orderBy(id, direction)
    .limit(page.limit + 1);
  const after = page.cursor === undefined ? null : readPlace(page.cursor);
  if (after !== null) {
    const than = sql.raw(isDescending ? '<' : '>');
    paged = paged.where(sql<SqlBool>`(${value}, ${id}) ${than} (${after[0]}, ${after[1]})`);
  }
  const rows = (await paged.execute()) as unknown as (Row & { keyset_value: string | number; keyset_id: string })[];
  const last = rows.length > page.limit ? rows[page.limit - 1] : undefined;
  return {
    items: rows.slice(0, page.limit),
    nextCursor: last === undefined ? null : writePlace([last.keyset_value, last.keyset_id]),
  };
}
