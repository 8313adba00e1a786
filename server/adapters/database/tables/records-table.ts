import { sql } from 'kysely';
import type { Kysely } from 'kysely';
import { z } from 'zod';
import type { RecordSummary } from '../../../domain/api/records.ts';
import { RECORD_STATES, readingsSchema, sealSchema } from '../../../domain/index.ts';
import type { RecordStore, StoredRecord } from '../../../services/record-ports.ts';
import type { Database } from '../database-schema.ts';
import { insertOnce } from '../insert-once.ts';
import { keysetPage } from '../keyset-page.ts';
import { personRef } from '../person-ref.ts';
import { matchesWords } from '../search-text.ts';
import { readJson, readJsonOrNull } from '../stored-json.ts';

const records = (db: Kysely<Database>) =>
  db
    .selectFrom('records')
    .innerJoin('zones', 'zones.id', 'records.zone_id')
    .innerJoin('jobs', 'jobs.id', 'zones.job_id')
    .leftJoin('people', 'people.id', 'records.created_by')
    .selectAll('records')
    .select([
      'zones.name as zone_name',
      'zones.job_id as job_id',
      'jobs.name as job_name',
      'jobs.is_invented as is_invented',
      'people.name as person_name',
      sql<string | null>`(select later.id from records later where later.supersedes_id = records.id
        order by later.created_at desc limit 1)`.as('superseded_by_id'),
    ]);

type RecordRow = Awaited<ReturnType<ReturnType<typeof records>['executeTakeFirstOrThrow']>>;

const summaryFromRow = (row: RecordRow): RecordSummary => ({
  id: row.id,
  zoneId: row.zone_id,
  zoneName: row.zone_name,
  jobId: row.job_id,
  jobName: row.job_name,
  isInvented: row.is_invented === 1,
  state: z.enum(RECORD_STATES).parse(row.state),
  createdAt: row.created_at,
  createdBy: personRef(row.created_by, row.person_name),
  signedAt: row.signed_at,
  signerName: row.signer_name,
});

const recordFromRow = (row: RecordRow): StoredRecord => ({
  ...summaryFromRow(row),
  readings: readJson(readingsSchema, row.readings_json),
  text: row.record_text,
  seal: readJsonOrNull(sealSchema, row.seal_json),
  supersedesId: row.supersedes_id,
  supersededById: row.superseded_by_id,
  timeStamp: row.time_stamp_base64 === null ? null : Buffer.from(row.time_stamp_base64, 'base64'),
});

export function recordsTable(db: Kysely<Database>): RecordStore {
  const one = async (query: ReturnType<typeof records>): Promise<StoredRecord | null> => {
    const row = await query.orderBy('records.created_at', 'desc').limit(1).executeTakeFirst();
    return row === undefined ? null : recordFromRow(row);
  };
  return {
    find: (id) => one(records(db).where('records.id', '=', id)),
    findOpen: (zoneId) =>
      one(records(db).where('records.zone_id', '=', zoneId).where('records.state', 'in', ['draft', 'ready'])),
    findStanding: (zoneId) =>
      one(records(db).where('records.zone_id', '=', zoneId).where('records.state', 'in', ['accepted', 'rejected'])),
    add: (record) =>
      insertOnce(
        db.insertInto('records').values({
          id: record.id,
          zone_id: record.zoneId,
          state: 'draft',
          readings_json: JSON.stringify(record.readings),
          record_text: null,
          seal_json: null,
          supersedes_id: record.supersedesId,
          signed_at: null,
          signer_name: null,
          time_stamp_base64: null,
          created_at: record.createdAt,
          created_by: record.createdBy,
          updated_at: record.createdAt,
        }),
      ),
    async hasSigned(place) {
      const signed = records(db).where('records.seal_json', 'is not', null).limit(1);
      const row = await (
        'zoneId' in place
          ? signed.where('records.zone_id', '=', place.zoneId)
          : signed.where('zones.job_id', '=', place.jobId)
      ).executeTakeFirst();
      return row !== undefined;
    },
    list: (query) => listRecords(db, query),
    ...moves(db),
  };
}

type Moves = Pick<
  RecordStore,
  'setReadings' | 'makeReady' | 'takeBack' | 'sign' | 'markSuperseded' | 'setTimeStamp' | 'removeDraft'
>;

const moves = (db: Kysely<Database>): Moves => {
  const update = async (id: string, columns: Partial<Database['records']>): Promise<void> => {
    await db.updateTable('records').set(columns).where('id', '=', id).execute();
  };
  return {
    setReadings: (id, readings, at) => update(id, { readings_json: JSON.stringify(readings), updated_at: at }),
    async makeReady(id, { text, files }, at) {
      await update(id, { state: 'ready', record_text: text, updated_at: at });
      for (const { path, sha256 } of files) {
        await db.insertInto('record_files').values({ record_id: id, path, sha256 }).execute();
      }
    },
    async takeBack(id, at) {
      await db.deleteFrom('record_files').where('record_id', '=', id).execute();
      await update(id, { state: 'draft', record_text: null, updated_at: at });
    },
    sign: (id, { state, sealed, signedAt, signerName }) =>
      update(id, {
        state,
        record_text: sealed.text,
        seal_json: JSON.stringify(sealed.seal),
        signed_at: signedAt,
        signer_name: signerName,
        updated_at: signedAt,
      }),
    markSuperseded: (id) => update(id, { state: 'superseded' }),
    setTimeStamp: (id, reply) => update(id, { time_stamp_base64: Buffer.from(reply).toString('base64') }),
    async removeDraft(id) {
      const removal = await db
        .deleteFrom('records')
        .where('id', '=', id)
        .where('state', '=', 'draft')
        .executeTakeFirst();
      return removal.numDeletedRows > 0n;
    },
  };
};

async function listRecords(
  db: Kysely<Database>,
  query: Parameters<RecordStore['list']>[0],
): ReturnType<RecordStore['list']> {
  let select = records(db);
  if (query.zoneId !== undefined) select = select.where('records.zone_id', '=', query.zoneId);
  if (query.state !== undefined) select = select.where('records.state', '=', query.state);
  const words = matchesWords('zones.search_text', query.q);
  if (words !== null) select = select.where(words);
  const page = await keysetPage(select, query, {
    sort: { createdAt: 'records.created_at', updatedAt: 'records.updated_at', zoneName: 'zones.name' },
    id: 'records.id',
  });
  return { ...page, items: page.items.map((row) => summaryFromRow(row)) };
}
