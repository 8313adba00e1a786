import type { InsertQueryBuilder, InsertResult } from 'kysely';
import type { Database } from './database-schema.ts';

/** Runs an insert that leaves an existing row with the same key alone. False when there was one. */
export async function insertOnce<T extends keyof Database>(
  insert: InsertQueryBuilder<Database, T, InsertResult>,
): Promise<boolean> {
  const result = await insert.onConflict((conflict) => conflict.doNothing()).executeTakeFirst();
  return (result.numInsertedOrUpdatedRows ?? 0n) > 0n;
}
