import { sql } from 'kysely';
import type { Kysely, SqlBool } from 'kysely';
import type { StoredPhoto } from '../../../domain/api/photos.ts';
import { photoTimeSchema } from '../../../domain/index.ts';
import type { PhotoStore } from '../../../services/work-ports.ts';
import type { Database } from '../database-schema.ts';
import { insertOnce } from '../insert-once.ts';
import { personRef } from '../person-ref.ts';
import { readJsonOrNull } from '../stored-json.ts';

const photos = (db: Kysely<Database>) =>
  db
    .selectFrom('photos')
    .leftJoin('people', 'people.id', 'photos.added_by')
    .selectAll('photos')
    .select('people.name as person_name');

type PhotoRow = Awaited<ReturnType<ReturnType<typeof photos>['executeTakeFirstOrThrow']>>;

const photoFromRow = (row: PhotoRow): StoredPhoto => ({
  id: row.id,
  fileName: row.file_name,
  mediaType: row.media_type,
  sizeBytes: row.size_bytes,
  sha256: row.sha256,
  widthPx: row.width_px,
  heightPx: row.height_px,
  takenAt: readJsonOrNull(photoTimeSchema, row.taken_at_json),
  addedAt: row.added_at,
  addedBy: personRef(row.added_by, row.person_name),
});

/** Photos by id, for rows that show several. */
export async function photosById(
  db: Kysely<Database>,
  ids: readonly (string | null)[],
): Promise<ReadonlyMap<string, StoredPhoto>> {
  const wanted = [...new Set(ids.filter((id) => id !== null))];
  if (wanted.length === 0) return new Map();
  const rows = await photos(db).where('photos.id', 'in', wanted).execute();
  return new Map(rows.map((row) => [row.id, photoFromRow(row)]));
}

/** No round, assessment or comparison shows the photo. */
const isUnused = sql<SqlBool>`
  not exists (select 1 from rounds where before_photo_id = photos.id) and
  not exists (select 1 from rounds where after_photo_id = photos.id) and
  not exists (select 1 from assessments where before_photo_id = photos.id) and
  not exists (select 1 from assessments where after_photo_id = photos.id) and
  not exists (select 1 from comparisons where comparisons.request_json like '%' || photos.id || '%')`;

export function photosTable(db: Kysely<Database>): PhotoStore {
  const findBy = async (column: 'photos.id' | 'photos.upload_id', value: string): Promise<StoredPhoto | null> => {
    const row = await photos(db).where(column, '=', value).executeTakeFirst();
    return row === undefined ? null : photoFromRow(row);
  };
  return {
    find: (id) => findBy('photos.id', id),
    findByUpload: (uploadId) => findBy('photos.upload_id', uploadId),
    add: (photo) =>
      insertOnce(
        db.insertInto('photos').values({
          id: photo.id,
          upload_id: photo.uploadId,
          sha256: photo.sha256,
          file_name: photo.fileName,
          media_type: photo.mediaType,
          size_bytes: photo.sizeBytes,
          width_px: photo.widthPx,
          height_px: photo.heightPx,
          taken_at_json: photo.takenAt === null ? null : JSON.stringify(photo.takenAt),
          added_at: photo.addedAt,
          added_by: photo.addedBy,
        }),
      ),
    async removeUnused(addedBefore) {
      await db.deleteFrom('photos').where('added_at', '<', addedBefore).where(isUnused).execute();
    },
  };
}
