import { sql } from 'kysely';
import type { Kysely, RawBuilder } from 'kysely';
import type { AuditSubject } from '../../../domain/api/audit-log.ts';
import type { Database } from '../database-schema.ts';

interface NamedRow {
  readonly id: string;
  readonly first: string;
  readonly second: string | null;
  readonly round: number | null;
}

/** How the things that rows of the log tell of are called: by one or two names and the number of a round. */
const NAMED: Readonly<Record<string, RawBuilder<NamedRow>>> = {
  person: sql`select id, name as first, null as second, null as round from people`,
  job: sql`select id, name as first, null as second, null as round from jobs`,
  zone: sql`select zones.id, jobs.name as first, zones.name as second, null as round
    from zones join jobs on jobs.id = zones.job_id`,
  round: sql`select rounds.id, jobs.name as first, zones.name as second, rounds.number as round
    from rounds join zones on zones.id = rounds.zone_id join jobs on jobs.id = zones.job_id`,
  assessment: sql`select assessments.id, jobs.name as first, zones.name as second, rounds.number as round
    from assessments join rounds on rounds.id = assessments.round_id
    join zones on zones.id = assessments.zone_id join jobs on jobs.id = assessments.job_id`,
  patch: sql`select test_patches.id, jobs.name as first, zones.name as second, null as round
    from test_patches join zones on zones.id = test_patches.zone_id join jobs on jobs.id = zones.job_id`,
  record: sql`select records.id, jobs.name as first, zones.name as second, null as round
    from records join zones on zones.id = records.zone_id join jobs on jobs.id = zones.job_id`,
  photo: sql`select id, file_name as first, null as second, null as round from photos`,
  machine: sql`select id, name as first, null as second, null as round from machines`,
  card: sql`select id, name as first, null as second, null as round from cards`,
  lesson: sql`select id, title as first, null as second, null as round from lessons`,
  comparison: sql`select id, title as first, null as second, null as round from comparisons`,
  trial: sql`select id, name as first, null as second, null as round from trials`,
};

/** What subjects ("kind:id") are called today; what is removed, or has no name, is not among the answer. */
export async function auditSubjects(
  db: Kysely<Database>,
  subjects: readonly string[],
): Promise<ReadonlyMap<string, AuditSubject>> {
  const idsOf = new Map<string, string[]>();
  for (const subject of new Set(subjects)) {
    const [kind, id] = subject.split(':', 2);
    idsOf.set(kind, [...(idsOf.get(kind) ?? []), id]);
  }
  const found = new Map<string, AuditSubject>();
  for (const [kind, ids] of idsOf) {
    if (!Object.hasOwn(NAMED, kind)) continue;
    const { rows } = await sql<NamedRow>`select * from (${NAMED[kind]}) where id in (${sql.join(ids)})`.execute(db);
    for (const { id, first, second, round } of rows) {
      const names = [first, ...(second === null ? [] : [second])].filter((name) => name !== '');
      if (names.length > 0) found.set(`${kind}:${id}`, { names, round });
    }
  }
  return found;
}
