import type { Kysely } from 'kysely';
import { z } from 'zod';
import { assessmentSummarySchema } from '../../../domain/api/assessments.ts';
import type { AssessmentSummary } from '../../../domain/api/assessments.ts';
import type { FaultNote } from '../../../domain/api/problem.ts';
import { fractionSchema, gradeSchema, measured } from '../../../domain/index.ts';
import type { Measured } from '../../../domain/index.ts';
import { decisionFor } from '../../../services/decision-for.ts';
import type { Database } from '../database-schema.ts';
import { readJsonOrNull } from '../stored-json.ts';

/** All columns of assessments with the names that summaries show. */
// eslint-disable-next-line @typescript-eslint/explicit-module-boundary-types -- the query's type is what it selects
export const assessmentRows = (db: Kysely<Database>) =>
  db
    .selectFrom('assessments')
    .innerJoin('zones', 'zones.id', 'assessments.zone_id')
    .innerJoin('jobs', 'jobs.id', 'assessments.job_id')
    .innerJoin('rounds', 'rounds.id', 'assessments.round_id')
    .leftJoin('people', 'people.id', 'assessments.requested_by')
    .selectAll('assessments')
    .select([
      'zones.name as zone_name',
      'jobs.name as job_name',
      'rounds.number as round_number',
      'people.name as person_name',
    ]);

export type AssessmentRow = Awaited<ReturnType<ReturnType<typeof assessmentRows>['executeTakeFirstOrThrow']>>;

/** What lists need of a corrected map; earlier versions did not decide anew. */
const correctedSchema = z.object({
  after: z
    .object({ residue: fractionSchema, decided: z.object({ grades: z.array(gradeSchema) }).nullish() })
    .nullable(),
});

const measuredOrNull = (value: number | null, low: number | null, high: number | null): Measured | null =>
  value === null || low === null || high === null ? null : measured(value, low, high);

export const faultNote = (row: { fault_code: string | null; fault_sentence: string | null }): FaultNote | null =>
  row.fault_code === null || row.fault_sentence === null
    ? null
    : { code: row.fault_code, sentence: row.fault_sentence };

export function summaryFromRow(row: AssessmentRow): AssessmentSummary {
  const { state, streakKind, verdict, decision } = assessmentSummarySchema
    .pick({ state: true, streakKind: true, verdict: true, decision: true })
    .parse({ state: row.state, streakKind: row.streak_kind, verdict: row.verdict, decision: row.decision });
  const corrected = readJsonOrNull(correctedSchema, row.corrected_json)?.after ?? null;
  return {
    id: row.id,
    jobId: row.job_id,
    jobName: row.job_name,
    zoneId: row.zone_id,
    zoneName: row.zone_name,
    roundId: row.round_id,
    roundNumber: row.round_number,
    state,
    queuedAt: row.queued_at,
    finishedAt: row.finished_at,
    residue: measuredOrNull(row.residue_value, row.residue_low, row.residue_high),
    stain: measuredOrNull(row.stain_value, row.stain_low, row.stain_high),
    streakKind,
    verdict,
    targetGrade: row.target_grade,
    decision,
    minutesPerSquareMetre: row.minutes_per_square_metre,
    isCorrected: row.corrected_json !== null,
    correctedResidue: corrected?.residue ?? null,
    correctedDecision: decisionFor(row.target_grade, corrected?.decided?.grades ?? []),
    fault: faultNote(row),
  };
}

/** The newest assessment of each owner (zone or round), by the owner's id. */
export async function latestSummaries(
  db: Kysely<Database>,
  owner: 'zone_id' | 'round_id',
  ids: readonly string[],
): Promise<ReadonlyMap<string, AssessmentSummary>> {
  const found = new Map<string, AssessmentSummary>();
  for (const id of ids) {
    const row = await assessmentRows(db)
      .where(`assessments.${owner}`, '=', id)
      .orderBy('assessments.queued_at', 'desc')
      .orderBy('assessments.id', 'desc')
      .limit(1)
      .executeTakeFirst();
    if (row !== undefined) found.set(id, summaryFromRow(row));
  }
  return found;
}
