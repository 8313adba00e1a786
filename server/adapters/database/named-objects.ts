import { sql } from 'kysely';
import type { Kysely } from 'kysely';
import type { Database } from './database-schema.ts';

/** Hashes of all objects that a row names. */
export async function namedObjects(db: Kysely<Database>): Promise<ReadonlySet<string>> {
  const photos = await db.selectFrom('photos').select('sha256').distinct().execute();
  const files = await db
    .selectFrom('assessments')
    .select([
      'overlay_sha256 as overlay',
      sql<string | null>`json_extract(before_map_json, '$.sha256')`.as('before'),
      sql<string | null>`json_extract(after_map_json, '$.sha256')`.as('after'),
      sql<string | null>`json_extract(before_map_json, '$.doubtfulSha256')`.as('beforeDoubt'),
      sql<string | null>`json_extract(after_map_json, '$.doubtfulSha256')`.as('afterDoubt'),
      sql<string | null>`json_extract(corrected_json, '$.maps.before')`.as('beforeCorrected'),
      sql<string | null>`json_extract(corrected_json, '$.maps.after')`.as('afterCorrected'),
    ])
    .where('overlay_sha256', 'is not', null)
    .execute();
  const recordFiles = await db.selectFrom('record_files').select('sha256').distinct().execute();
  const named = [
    ...recordFiles.map((file) => file.sha256),
    ...photos.map((photo) => photo.sha256),
    ...files.flatMap((row) => Object.values(row)),
  ];
  return new Set(named.filter((sha256) => sha256 !== null));
}
