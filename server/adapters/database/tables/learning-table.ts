import { sql } from 'kysely';
import type { Kysely } from 'kysely';
import { assessmentBasisSchema } from '../../../domain/api/assessments.ts';
import { assessmentSchema, SURFACE_KIND_WORDS } from '../../../domain/index.ts';
import type { LearningStore } from '../../../services/trial-ports.ts';
import type { Database } from '../database-schema.ts';
import { readJson } from '../stored-json.ts';

/** The latest finished assessments of a machine that are looked at: more than any kind of surface is learned from. */
const MOST_ASSESSMENTS = 120;

export function learningTable(db: Kysely<Database>): LearningStore {
  return {
    async doneOfMachine(machineId) {
      const rows = await db
        .selectFrom('assessments')
        .innerJoin('rounds', 'rounds.id', 'assessments.round_id')
        .innerJoin('zones', 'zones.id', 'assessments.zone_id')
        .innerJoin('assessment_results', 'assessment_results.assessment_id', 'assessments.id')
        .select([
          'assessments.zone_id as zone',
          'assessments.queued_at as at',
          'rounds.number as number',
          'rounds.minutes_spent as minutesSpent',
          'zones.area_m2 as areaM2',
          'assessments.basis_json as basis',
          'assessment_results.result_json as result',
        ])
        .where('assessments.state', '=', 'done')
        .where(sql<string>`json_extract(assessments.basis_json, '$.machineId')`, '=', machineId)
        .orderBy('assessments.queued_at', 'desc')
        .limit(MOST_ASSESSMENTS)
        .execute();
      return rows.reverse().map((row) => ({
        zoneId: row.zone,
        at: row.at,
        roundNumber: row.number,
        areaM2: row.areaM2,
        minutesSpent: row.minutesSpent,
        basis: readJson(assessmentBasisSchema, row.basis),
        result: readJson(assessmentSchema, row.result),
      }));
    },
    async forget(machineId, kind, at) {
      await db
        .insertInto('forgotten_learning')
        .values({ machine_id: machineId, kind, forgotten_at: at })
        .onConflict((conflict) => conflict.columns(['machine_id', 'kind']).doUpdateSet({ forgotten_at: at }))
        .execute();
    },
    async forgottenAt(machineId) {
      const rows = await db.selectFrom('forgotten_learning').selectAll().where('machine_id', '=', machineId).execute();
      return new Map(
        rows.flatMap(({ kind, forgotten_at }) => {
          const known = SURFACE_KIND_WORDS.find((word) => word === kind);
          return known === undefined ? [] : [[known, forgotten_at] as const];
        }),
      );
    },
  };
}
