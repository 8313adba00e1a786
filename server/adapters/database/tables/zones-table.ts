import { sql } from 'kysely';
import type { Kysely } from 'kysely';
import type { AssessmentSummary } from '../../../domain/api/assessments.ts';
import { jobZoneSchema } from '../../../domain/api/zones.ts';
import type { JobZone } from '../../../domain/api/zones.ts';
import type { ZoneStore } from '../../../services/work-ports.ts';
import type { Database } from '../database-schema.ts';
import { insertOnce } from '../insert-once.ts';
import { keysetPage } from '../keyset-page.ts';
import { personRef } from '../person-ref.ts';
import { matchesWords } from '../search-text.ts';
import { flag, given } from '../stored-json.ts';
import { latestSummaries } from './assessment-summaries.ts';
import { zoneSearchText } from './zone-search-text.ts';

const zones = (db: Kysely<Database>) =>
  db
    .selectFrom('zones')
    .innerJoin('jobs', 'jobs.id', 'zones.job_id')
    .leftJoin('people', 'people.id', 'zones.created_by')
    .selectAll('zones')
    .select([
      'jobs.name as job_name',
      'jobs.is_invented as is_invented',
      'people.name as person_name',
      sql<number>`(select count(*) from rounds where rounds.zone_id = zones.id)`.as('round_count'),
      sql<number | null>`(select sum(minutes_spent) from rounds where rounds.zone_id = zones.id)`.as('minutes_spent'),
    ]);

type ZoneRow = Awaited<ReturnType<ReturnType<typeof zones>['executeTakeFirstOrThrow']>>;

const zoneFromRow = (row: ZoneRow, latest: AssessmentSummary | null): JobZone => ({
  id: row.id,
  jobId: row.job_id,
  jobName: row.job_name,
  name: row.name,
  note: row.note,
  surfaceKind: row.surface_kind,
  thicknessMm: jobZoneSchema.shape.thicknessMm.parse(row.thickness_mm),
  areaM2: row.area_m2,
  targetGrade: row.target_grade,
  machineId: row.machine_id,
  labelCode: row.label_code,
  isInvented: row.is_invented === 1,
  isPutAway: row.is_put_away === 1,
  standing: jobZoneSchema.shape.standing.parse(row.standing),
  roundCount: row.round_count,
  minutesSpent: row.minutes_spent,
  latest,
  createdAt: row.created_at,
  createdBy: personRef(row.created_by, row.person_name),
  lastActivityAt: row.last_activity_at,
});

async function withLatest(db: Kysely<Database>, rows: readonly ZoneRow[]): Promise<JobZone[]> {
  const latest = await latestSummaries(
    db,
    'zone_id',
    rows.map((row) => row.id),
  );
  return rows.map((row) => zoneFromRow(row, latest.get(row.id) ?? null));
}

export function zonesTable(db: Kysely<Database>): ZoneStore {
  const findBy = async (column: 'zones.id' | 'zones.label_code', value: string): Promise<JobZone | null> => {
    const rows = await zones(db).where(column, '=', value).execute();
    return (await withLatest(db, rows)).at(0) ?? null;
  };
  return {
    find: (id) => findBy('zones.id', id),
    findByLabel: (labelCode) => findBy('zones.label_code', labelCode),
    add: (zone) => addZone(db, zone),
    change: (id, change) => changeZone(db, id, change),
    async setStanding(id, standing) {
      await db.updateTable('zones').set({ standing }).where('id', '=', id).execute();
    },
    async remove(id) {
      const result = await db.deleteFrom('zones').where('id', '=', id).executeTakeFirst();
      return result.numDeletedRows > 0n;
    },
    async touch(id, at) {
      await db.updateTable('zones').set({ last_activity_at: at }).where('id', '=', id).execute();
    },
    async list(query) {
      let select = zones(db);
      const words = matchesWords('zones.search_text', query.q);
      if (words !== null) select = select.where(words);
      if (query.jobId !== undefined) select = select.where('zones.job_id', '=', query.jobId);
      if (query.standing !== undefined) select = select.where('zones.standing', '=', query.standing);
      if (query.putAway !== 'all') select = select.where('zones.is_put_away', '=', flag(query.putAway === 'yes'));
      const page = await keysetPage(select, query, {
        sort: { name: 'zones.name', createdAt: 'zones.created_at', lastActivityAt: 'zones.last_activity_at' },
        id: 'zones.id',
      });
      return { ...page, items: await withLatest(db, page.items) };
    },
  };
}

async function addZone(db: Kysely<Database>, zone: Parameters<ZoneStore['add']>[0]): Promise<boolean> {
  const job = await db.selectFrom('jobs').select('name').where('id', '=', zone.jobId).executeTakeFirstOrThrow();
  return insertOnce(
    db.insertInto('zones').values({
      id: zone.id,
      job_id: zone.jobId,
      name: zone.name,
      note: zone.note,
      surface_kind: zone.surfaceKind,
      thickness_mm: zone.thicknessMm,
      area_m2: zone.areaM2,
      target_grade: zone.targetGrade,
      machine_id: zone.machineId,
      label_code: zone.labelCode,
      is_put_away: 0,
      standing: 'not started',
      created_at: zone.createdAt,
      created_by: zone.createdBy,
      last_activity_at: zone.createdAt,
      search_text: zoneSearchText({ name: zone.name, jobName: job.name, labelCode: zone.labelCode }),
    }),
  );
}

async function changeZone(
  db: Kysely<Database>,
  id: string,
  change: Parameters<ZoneStore['change']>[1],
): Promise<boolean> {
  const row = await zones(db).where('zones.id', '=', id).executeTakeFirst();
  if (row === undefined) return false;
  const columns = given({
    name: change.name,
    note: change.note,
    surface_kind: change.surfaceKind,
    thickness_mm: change.thicknessMm,
    area_m2: change.areaM2,
    target_grade: change.targetGrade,
    machine_id: change.machineId,
    is_put_away: change.isPutAway === undefined ? undefined : flag(change.isPutAway),
    search_text: zoneSearchText({ name: change.name ?? row.name, jobName: row.job_name, labelCode: row.label_code }),
  });
  await db.updateTable('zones').set(columns).where('id', '=', id).execute();
  return true;
}
