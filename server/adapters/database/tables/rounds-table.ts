import { sql } from 'kysely';
import type { Kysely } from 'kysely';
import type { AssessmentSummary } from '../../../domain/api/assessments.ts';
import { outlineSchema } from '../../../domain/api/photos.ts';
import type { RoundPhoto, StoredPhoto } from '../../../domain/api/photos.ts';
import { zoneRoundSchema } from '../../../domain/api/rounds.ts';
import type { ZoneRound } from '../../../domain/api/rounds.ts';
import { settingsSchema } from '../../../domain/index.ts';
import type { RoundStore } from '../../../services/work-ports.ts';
import type { Database } from '../database-schema.ts';
import { insertOnce } from '../insert-once.ts';
import { keysetPage } from '../keyset-page.ts';
import { personRef } from '../person-ref.ts';
import { flag, given, readJsonOrNull, writeJsonOrNull } from '../stored-json.ts';
import { latestSummaries } from './assessment-summaries.ts';
import { photosById } from './photos-table.ts';

const rounds = (db: Kysely<Database>) =>
  db
    .selectFrom('rounds')
    .innerJoin('zones', 'zones.id', 'rounds.zone_id')
    .leftJoin('people', 'people.id', 'rounds.created_by')
    .selectAll('rounds')
    .select(['zones.job_id as job_id', 'people.name as person_name']);

type RoundRow = Awaited<ReturnType<ReturnType<typeof rounds>['executeTakeFirstOrThrow']>>;

interface Joined {
  readonly photos: ReadonlyMap<string, StoredPhoto>;
  readonly latest: ReadonlyMap<string, AssessmentSummary>;
}

function roundFromRow(row: RoundRow, joined: Joined): ZoneRound {
  const photo = (id: string | null, outline: string | null): RoundPhoto | null => {
    const stored = id === null ? undefined : joined.photos.get(id);
    return stored === undefined ? null : { photo: stored, outline: readJsonOrNull(outlineSchema, outline) };
  };
  return {
    id: row.id,
    zoneId: row.zone_id,
    jobId: row.job_id,
    number: row.number,
    settings: readJsonOrNull(settingsSchema, row.settings_json),
    machineId: row.machine_id,
    cardId: row.card_id,
    scrapeTest: zoneRoundSchema.shape.scrapeTest.parse(row.scrape_test),
    heatTint: row.heat_tint === null ? null : row.heat_tint === 1,
    minutesSpent: row.minutes_spent,
    note: row.note,
    before: photo(row.before_photo_id, row.before_outline_json),
    after: photo(row.after_photo_id, row.after_outline_json),
    latest: joined.latest.get(row.id) ?? null,
    createdAt: row.created_at,
    createdBy: personRef(row.created_by, row.person_name),
    updatedAt: row.updated_at,
  };
}

async function withParts(db: Kysely<Database>, rows: readonly RoundRow[]): Promise<ZoneRound[]> {
  const photos = await photosById(
    db,
    rows.flatMap((row) => [row.before_photo_id, row.after_photo_id]),
  );
  const latest = await latestSummaries(
    db,
    'round_id',
    rows.map((row) => row.id),
  );
  return rows.map((row) => roundFromRow(row, { photos, latest }));
}

export function roundsTable(db: Kysely<Database>): RoundStore {
  return {
    add: (round) => addRound(db, round),
    async find(id) {
      const rows = await rounds(db).where('rounds.id', '=', id).execute();
      return (await withParts(db, rows)).at(0) ?? null;
    },
    async change(id, change, at) {
      const columns = given({
        settings_json: change.settings === undefined ? undefined : writeJsonOrNull(change.settings),
        machine_id: change.machineId,
        card_id: change.cardId,
        scrape_test: change.scrapeTest,
        heat_tint: typeof change.heatTint === 'boolean' ? flag(change.heatTint) : change.heatTint,
        minutes_spent: change.minutesSpent,
        note: change.note,
        updated_at: at,
      });
      const result = await db.updateTable('rounds').set(columns).where('id', '=', id).executeTakeFirst();
      return result.numUpdatedRows > 0n;
    },
    async setPhoto(id, role, photo) {
      const [photoId, outline] = [photo?.id ?? null, writeJsonOrNull(photo?.outline)];
      const columns =
        role === 'before'
          ? { before_photo_id: photoId, before_outline_json: outline }
          : { after_photo_id: photoId, after_outline_json: outline };
      await db.updateTable('rounds').set(columns).where('id', '=', id).execute();
    },
    async remove(id) {
      const result = await db.deleteFrom('rounds').where('id', '=', id).executeTakeFirst();
      return result.numDeletedRows > 0n;
    },
    async list(zoneId, query) {
      const page = await keysetPage(rounds(db).where('rounds.zone_id', '=', zoneId), query, {
        sort: { number: 'rounds.number', createdAt: 'rounds.created_at' },
        id: 'rounds.id',
      });
      return { ...page, items: await withParts(db, page.items) };
    },
  };
}

function addRound(db: Kysely<Database>, round: Parameters<RoundStore['add']>[0]): Promise<boolean> {
  return insertOnce(
    db.insertInto('rounds').values({
      id: round.id,
      zone_id: round.zoneId,
      number: sql<number>`(select coalesce(max(number), 0) + 1 from rounds where zone_id = ${round.zoneId})`,
      settings_json: writeJsonOrNull(round.settings),
      machine_id: round.machineId,
      card_id: round.cardId,
      scrape_test: round.scrapeTest,
      heat_tint: round.heatTint === null ? null : flag(round.heatTint),
      minutes_spent: round.minutesSpent,
      note: round.note,
      before_photo_id: null,
      before_outline_json: null,
      after_photo_id: null,
      after_outline_json: null,
      created_at: round.createdAt,
      created_by: round.createdBy,
      updated_at: round.createdAt,
    }),
  );
}
