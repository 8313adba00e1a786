import type { Kysely } from 'kysely';
import { z } from 'zod';
import { assessmentBasisSchema, zoneAssessmentSchema } from '../../../domain/api/assessments.ts';
import type { ZoneAssessment } from '../../../domain/api/assessments.ts';
import { pictureLightSchema } from '../../../domain/picture-light.ts';
import { assessmentSchema, surfaceInPhotoSchema } from '../../../domain/index.ts';
import type {
  AssessmentFiles,
  AssessmentResult,
  AssessmentStore,
  StoredClassMap,
} from '../../../services/work-ports.ts';
import type { Database } from '../database-schema.ts';
import { personRef } from '../person-ref.ts';
import { readJson, readJsonOrNull } from '../stored-json.ts';
import { assessmentRows, summaryFromRow } from './assessment-summaries.ts';

const classMapSchema = z.object({
  sha256: z.string(),
  widthPx: z.int(),
  heightPx: z.int(),
  photoPxPerPixel: z.number(),
  planeFromMap: z.array(z.number()).length(9),
  doubtfulSha256: z.string().nullable().default(null),
  /** Rows of earlier versions have none: such a photo has no scale in a record. */
  surface: surfaceInPhotoSchema.nullable().default(null),
  light: pictureLightSchema.nullable().default(null),
});
const streakLinesSchema = zoneAssessmentSchema.shape.streakLines;
const correctedSchema = zoneAssessmentSchema.shape.corrected;
const NO_CORRECTED_MAPS = { before: null, after: null };
/** Rows of earlier versions kept the shares alone. */
const correctedMapsSchema = z.object({
  maps: z.object({ before: z.string().nullable(), after: z.string().nullable() }).default(NO_CORRECTED_MAPS),
});

const FRACTION_DONE = { queued: 0, running: 0, done: 1, failed: 1 } as const;

/** An assessment with its result, but with no more progress than its state tells. */
export async function findAssessment(db: Kysely<Database>, id: string): Promise<ZoneAssessment | null> {
  const row = await assessmentRows(db).where('assessments.id', '=', id).executeTakeFirst();
  if (row === undefined) return null;
  const stored = await db
    .selectFrom('assessment_results')
    .select(['result_json', 'streak_lines_json'])
    .where('assessment_id', '=', id)
    .executeTakeFirst();
  const summary = summaryFromRow(row);
  const size = (json: string | null): ZoneAssessment['classMaps']['after'] => {
    const map = readJsonOrNull(classMapSchema, json);
    if (map === null) return null;
    const { widthPx, heightPx, photoPxPerPixel, planeFromMap, light, doubtfulSha256 } = map;
    return { widthPx, heightPx, photoPxPerPixel, planeFromMap, light, hasDoubtful: doubtfulSha256 !== null };
  };
  return {
    ...summary,
    progress: {
      state: summary.state,
      stage: null,
      fractionDone: zoneAssessmentSchema.shape.progress.shape.fractionDone.parse(FRACTION_DONE[summary.state]),
      waitingBefore: 0,
      fault: summary.fault,
    },
    requestedBy: personRef(row.requested_by, row.person_name),
    startedAt: row.started_at,
    programVersion: row.program_version,
    basis: readJson(assessmentBasisSchema, row.basis_json),
    photos: { before: row.before_photo_id, after: row.after_photo_id },
    result: stored === undefined ? null : readJson(assessmentSchema, stored.result_json),
    classMaps: { before: size(row.before_map_json), after: size(row.after_map_json) },
    streakLines: readJsonOrNull(streakLinesSchema, stored?.streak_lines_json ?? null) ?? [],
    corrected: readJsonOrNull(correctedSchema, row.corrected_json) ?? { before: null, after: null },
  };
}

export async function findAssessmentFiles(db: Kysely<Database>, id: string): Promise<AssessmentFiles | null> {
  const row = await db
    .selectFrom('assessments')
    .select(['overlay_sha256', 'before_map_json', 'after_map_json', 'corrected_json'])
    .where('id', '=', id)
    .executeTakeFirst();
  if (row === undefined || row.overlay_sha256 === null) return null;
  const map = (json: string | null): StoredClassMap | null => readJsonOrNull(classMapSchema, json);
  return {
    overlay: row.overlay_sha256,
    classMaps: { before: map(row.before_map_json), after: map(row.after_map_json) },
    correctedMaps: readJsonOrNull(correctedMapsSchema, row.corrected_json)?.maps ?? NO_CORRECTED_MAPS,
  };
}

/** Writes what an analysis found. An assessment that was removed meanwhile is left alone. */
export async function finishAssessment(
  db: Kysely<Database>,
  id: string,
  at: string,
  { result, decision, minutesPerSquareMetre, files, streakLines }: AssessmentResult,
): Promise<void> {
  const { residue, fractions } = result.after;
  const cardError = result.photos.after.card.colourErrorDeltaE00;
  const update = await db
    .updateTable('assessments')
    .set({
      state: 'done',
      finished_at: at,
      residue_value: residue.value,
      residue_low: residue.low,
      residue_high: residue.high,
      stain_value: fractions.stain.value,
      stain_low: fractions.stain.low,
      stain_high: fractions.stain.high,
      streak_kind: result.streaks.kind,
      verdict: result.advice?.verdict ?? null,
      decision,
      minutes_per_square_metre: minutesPerSquareMetre,
      card_error_median: cardError?.median ?? null,
      card_error_p95: cardError?.p95 ?? null,
      card_error_max: cardError?.max ?? null,
      fault_code: null,
      fault_sentence: null,
      overlay_sha256: files.overlay,
      before_map_json: files.classMaps.before === null ? null : JSON.stringify(files.classMaps.before),
      after_map_json: files.classMaps.after === null ? null : JSON.stringify(files.classMaps.after),
    })
    .where('id', '=', id)
    .executeTakeFirst();
  if (update.numUpdatedRows === 0n) return;
  const resultJson = { result_json: JSON.stringify(result), streak_lines_json: JSON.stringify(streakLines) };
  await db
    .insertInto('assessment_results')
    .values({ assessment_id: id, ...resultJson })
    .onConflict((conflict) => conflict.column('assessment_id').doUpdateSet(resultJson))
    .execute();
}

/** Finished assessments of a zone, the newest of each round, in the order of the rounds. */
export async function listDoneByRound(
  db: Kysely<Database>,
  zoneId: string,
): ReturnType<AssessmentStore['doneByRound']> {
  const rows = await db
    .selectFrom('assessments')
    .innerJoin('rounds', 'rounds.id', 'assessments.round_id')
    .innerJoin('assessment_results', 'assessment_results.assessment_id', 'assessments.id')
    .select(['rounds.number as number', 'assessments.basis_json as basis', 'assessment_results.result_json as result'])
    .where('assessments.zone_id', '=', zoneId)
    .where('assessments.state', '=', 'done')
    .orderBy('rounds.number')
    .orderBy('assessments.queued_at')
    .execute();
  const newest = new Map(rows.map((row) => [row.number, row]));
  return [...newest.values()].map((row) => ({
    roundNumber: row.number,
    basis: readJson(assessmentBasisSchema, row.basis),
    result: readJson(assessmentSchema, row.result),
  }));
}
