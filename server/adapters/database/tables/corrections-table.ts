import type { Kysely } from 'kysely';
import { correctionSchema } from '../../../domain/api/corrections.ts';
import type { CorrectionStore } from '../../../services/work-ports.ts';
import type { Database } from '../database-schema.ts';
import { insertOnce } from '../insert-once.ts';
import { personRef } from '../person-ref.ts';
import { flag, readJson } from '../stored-json.ts';

export function correctionsTable(db: Kysely<Database>): CorrectionStore {
  return {
    add: (correction) =>
      insertOnce(
        db.insertInto('corrections').values({
          id: correction.id,
          assessment_id: correction.assessmentId,
          map: correction.map,
          marks_json: JSON.stringify(correction.marks),
          may_train: flag(correction.mayTrain),
          reason: correction.reason,
          made_at: correction.madeAt,
          made_by: correction.madeBy,
          withdrawn_at: null,
          withdrawn_by: null,
        }),
      ),
    async withdraw(id, assessmentId, { at, by }) {
      const result = await db
        .updateTable('corrections')
        .set({ withdrawn_at: at, withdrawn_by: by })
        .where('id', '=', id)
        .where('assessment_id', '=', assessmentId)
        .where('withdrawn_at', 'is', null)
        .executeTakeFirst();
      return result.numUpdatedRows > 0n;
    },
    async list(assessmentId) {
      const rows = await db
        .selectFrom('corrections')
        .leftJoin('people as maker', 'maker.id', 'corrections.made_by')
        .leftJoin('people as withdrawer', 'withdrawer.id', 'corrections.withdrawn_by')
        .selectAll('corrections')
        .select(['maker.name as maker_name', 'withdrawer.name as withdrawer_name'])
        .where('assessment_id', '=', assessmentId)
        .orderBy('made_at')
        .orderBy('corrections.id')
        .execute();
      return rows.map((row) => ({
        id: row.id,
        assessmentId: row.assessment_id,
        map: correctionSchema.shape.map.parse(row.map),
        marks: readJson(correctionSchema.shape.marks, row.marks_json),
        mayTrain: row.may_train === 1,
        reason: row.reason,
        madeAt: row.made_at,
        madeBy: personRef(row.made_by, row.maker_name),
        withdrawnAt: row.withdrawn_at,
        withdrawnBy: personRef(row.withdrawn_by, row.withdrawer_name),
      }));
    },
  };
}
