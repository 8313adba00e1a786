import { sql } from 'kysely';
import type { Kysely, RawBuilder, SqlBool } from 'kysely';
import type { Job } from '../../../domain/api/jobs.ts';
import type { JobStore } from '../../../services/work-ports.ts';
import type { Database } from '../database-schema.ts';
import { insertOnce } from '../insert-once.ts';
import { keysetPage } from '../keyset-page.ts';
import { personRef } from '../person-ref.ts';
import { matchesWords, searchText } from '../search-text.ts';
import { flag, given } from '../stored-json.ts';
import { zoneSearchText } from './zone-search-text.ts';

const zonesWith = (condition: RawBuilder<unknown>): RawBuilder<number> =>
  sql<number>`(select count(*) from zones where zones.job_id = jobs.id and ${condition})`;

const jobs = (db: Kysely<Database>) =>
  db
    .selectFrom('jobs')
    .leftJoin('people', 'people.id', 'jobs.created_by')
    .selectAll('jobs')
    .select([
      'people.name as person_name',
      zonesWith(sql`zones.is_put_away = 0`).as('zone_count'),
      zonesWith(sql`zones.is_put_away = 0 and zones.standing = 'meets target'`).as('zones_meeting_target'),
    ]);

type JobRow = Awaited<ReturnType<ReturnType<typeof jobs>['executeTakeFirstOrThrow']>>;

const jobFromRow = (row: JobRow): Job => ({
  id: row.id,
  name: row.name,
  customer: row.customer,
  note: row.note,
  isInvented: row.is_invented === 1,
  isPutAway: row.is_put_away === 1,
  zoneCount: row.zone_count,
  zonesMeetingTarget: row.zones_meeting_target,
  createdAt: row.created_at,
  createdBy: personRef(row.created_by, row.person_name),
  lastActivityAt: row.last_activity_at,
});

export function jobsTable(db: Kysely<Database>): JobStore {
  return {
    add: (job) =>
      insertOnce(
        db.insertInto('jobs').values({
          id: job.id,
          name: job.name,
          customer: job.customer,
          note: job.note,
          is_invented: flag(job.isInvented),
          is_put_away: 0,
          created_at: job.createdAt,
          created_by: job.createdBy,
          last_activity_at: job.createdAt,
          search_text: searchText(job.name, job.customer),
        }),
      ),
    async find(id) {
      const row = await jobs(db).where('jobs.id', '=', id).executeTakeFirst();
      return row === undefined ? null : jobFromRow(row);
    },
    change: (id, change) => changeJob(db, id, change),
    async remove(id) {
      const result = await db.deleteFrom('jobs').where('id', '=', id).executeTakeFirst();
      return result.numDeletedRows > 0n;
    },
    async touch(id, at) {
      await db.updateTable('jobs').set({ last_activity_at: at }).where('id', '=', id).execute();
    },
    async list(query) {
      let select = jobs(db);
      const words = matchesWords('jobs.search_text', query.q);
      if (words !== null) select = select.where(words);
      if (query.putAway !== 'all') select = select.where('jobs.is_put_away', '=', flag(query.putAway === 'yes'));
      const page = await keysetPage(select, query, {
        sort: { name: 'jobs.name', createdAt: 'jobs.created_at', lastActivityAt: 'jobs.last_activity_at' },
        id: 'jobs.id',
      });
      return { ...page, items: page.items.map((row) => jobFromRow(row)) };
    },
    async listForgotten(untouchedSince) {
      const rows = await db
        .selectFrom('jobs')
        .select('id')
        .where('is_put_away', '=', 1)
        .where('last_activity_at', '<', untouchedSince)
        .where(
          sql<SqlBool>`not exists (select 1 from records join zones on zones.id = records.zone_id
            where zones.job_id = jobs.id and records.seal_json is not null)`,
        )
        .execute();
      return rows.map((row) => row.id);
    },
    counts: () => countWork(db),
  };
}

async function changeJob(
  db: Kysely<Database>,
  id: string,
  change: Parameters<JobStore['change']>[1],
): Promise<boolean> {
  const row = await db.selectFrom('jobs').select(['name', 'customer']).where('id', '=', id).executeTakeFirst();
  if (row === undefined) return false;
  const columns = given({
    name: change.name,
    customer: change.customer,
    note: change.note,
    is_put_away: change.isPutAway === undefined ? undefined : flag(change.isPutAway),
    search_text: searchText(change.name ?? row.name, change.customer ?? row.customer),
  });
  await db.updateTable('jobs').set(columns).where('id', '=', id).execute();
  if (change.name === undefined || change.name === row.name) return true;
  const zones = await db.selectFrom('zones').select(['id', 'name', 'label_code']).where('job_id', '=', id).execute();
  for (const zone of zones) {
    const text = zoneSearchText({ name: zone.name, jobName: change.name, labelCode: zone.label_code });
    await db.updateTable('zones').set({ search_text: text }).where('id', '=', zone.id).execute();
  }
  return true;
}

async function countWork(db: Kysely<Database>): ReturnType<JobStore['counts']> {
  const row = await db
    .selectNoFrom([
      sql<number>`(select count(*) from jobs where is_put_away = 0)`.as('jobs'),
      sql<number>`(select count(*) from zones where is_put_away = 0)`.as('zones'),
      sql<number>`(select count(*) from zones where is_put_away = 0 and standing = 'meets target')`.as('meeting'),
      sql<number>`(select count(*) from jobs where is_invented = 1)`.as('invented'),
    ])
    .executeTakeFirstOrThrow();
  return {
    jobs: row.jobs,
    zones: row.zones,
    zonesMeetingTarget: row.meeting,
    hasInventedJob: row.invented > 0,
  };
}
