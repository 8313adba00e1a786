import { sql } from 'kysely';
import type { Kysely } from 'kysely';
import { runStateSchema } from '../../../domain/api/assessments.ts';
import type { AssessmentStore } from '../../../services/work-ports.ts';
import type { Database } from '../database-schema.ts';
import { insertOnce } from '../insert-once.ts';
import { keysetPage } from '../keyset-page.ts';
import { assessmentRows, summaryFromRow } from './assessment-summaries.ts';
import { listAssessments } from './list-assessments.ts';
import { findAssessment, findAssessmentFiles, finishAssessment, listDoneByRound } from './stored-assessment.ts';

const NOT_MEASURED_YET = {
  started_at: null,
  finished_at: null,
  residue_value: null,
  residue_low: null,
  residue_high: null,
  stain_value: null,
  stain_low: null,
  stain_high: null,
  streak_kind: null,
  verdict: null,
  decision: null,
  minutes_per_square_metre: null,
  card_error_median: null,
  card_error_p95: null,
  card_error_max: null,
  corrected_json: null,
  fault_code: null,
  fault_sentence: null,
  overlay_sha256: null,
  before_map_json: null,
  after_map_json: null,
} as const;

export function assessmentsTable(db: Kysely<Database>): AssessmentStore {
  return {
    add: (assessment) => addAssessment(db, assessment),
    find: (id) => findAssessment(db, id),
    filesOf: (id) => findAssessmentFiles(db, id),
    finish: (id, at, result) => finishAssessment(db, id, at, result),
    list: (query) => listAssessments(db, query),
    async start(id, at) {
      await db.updateTable('assessments').set({ state: 'running', started_at: at }).where('id', '=', id).execute();
    },
    async fail(id, at, fault) {
      await db
        .updateTable('assessments')
        .set({ state: 'failed', finished_at: at, fault_code: fault.code, fault_sentence: fault.sentence })
        .where('id', '=', id)
        .execute();
    },
    async setCorrected(id, corrected, maps) {
      const isAny = corrected.before !== null || corrected.after !== null;
      await db
        .updateTable('assessments')
        .set({ corrected_json: isAny ? JSON.stringify({ ...corrected, maps }) : null })
        .where('id', '=', id)
        .execute();
    },
    async latestDoneOf(zoneId) {
      const row = await assessmentRows(db)
        .where('assessments.zone_id', '=', zoneId)
        .where('assessments.state', '=', 'done')
        .orderBy('assessments.queued_at', 'desc')
        .orderBy('assessments.id', 'desc')
        .limit(1)
        .executeTakeFirst();
      return row === undefined ? null : summaryFromRow(row);
    },
    async listOwed() {
      const rows = await db
        .selectFrom('assessments')
        .select(['id', 'state'])
        .where('state', 'in', ['queued', 'running'])
        .orderBy('queued_at')
        .execute();
      return rows.map((row) => ({ id: row.id, state: runStateSchema.parse(row.state) }));
    },
    doneByRound: (zoneId) => listDoneByRound(db, zoneId),
    cardReadings: (cardId, query) => listCardReadings(db, cardId, query),
  };
}

async function addAssessment(
  db: Kysely<Database>,
  assessment: Parameters<AssessmentStore['add']>[0],
): Promise<boolean> {
  const place = await db
    .selectFrom('rounds')
    .innerJoin('zones', 'zones.id', 'rounds.zone_id')
    .select(['rounds.zone_id as zone_id', 'zones.job_id as job_id'])
    .where('rounds.id', '=', assessment.roundId)
    .executeTakeFirstOrThrow();
  return insertOnce(
    db.insertInto('assessments').values({
      ...NOT_MEASURED_YET,
      ...place,
      id: assessment.id,
      round_id: assessment.roundId,
      state: 'queued',
      queued_at: assessment.queuedAt,
      requested_by: assessment.requestedBy,
      target_grade: assessment.targetGrade,
      before_photo_id: assessment.beforePhotoId,
      after_photo_id: assessment.afterPhotoId,
      card_id: assessment.basis.cardId,
      basis_json: JSON.stringify(assessment.basis),
      program_version: assessment.programVersion,
    }),
  );
}

async function listCardReadings(
  db: Kysely<Database>,
  cardId: string,
  query: Parameters<AssessmentStore['cardReadings']>[1],
): ReturnType<AssessmentStore['cardReadings']> {
  const select = db
    .selectFrom('assessments')
    .innerJoin('zones', 'zones.id', 'assessments.zone_id')
    .select([
      'assessments.id as id',
      'zones.name as zone_name',
      'assessments.queued_at as at',
      sql<number>`assessments.card_error_median`.as('median'),
      sql<number>`assessments.card_error_p95`.as('p95'),
      sql<number>`assessments.card_error_max`.as('max'),
    ])
    .where('assessments.card_id', '=', cardId)
    .where('assessments.card_error_median', 'is not', null);
  const page = await keysetPage(select, query, { sort: { at: 'assessments.queued_at' }, id: 'assessments.id' });
  return {
    ...page,
    items: page.items.map(({ id, zone_name, at, median, p95, max }) => ({
      assessmentId: id,
      zoneName: zone_name,
      at,
      colourErrorDeltaE00: { median, p95, max },
    })),
  };
}
