import type { Kysely } from 'kysely';
import { trialPlanSchema, trialResultSchema } from '../../../domain/index.ts';
import type { ShopTrial } from '../../../domain/api/trials.ts';
import type { TrialStore } from '../../../services/trial-ports.ts';
import type { Database } from '../database-schema.ts';
import { insertOnce } from '../insert-once.ts';
import { keysetPage } from '../keyset-page.ts';
import { personRef } from '../person-ref.ts';
import { matchesWords, searchText } from '../search-text.ts';
import { readJson, readJsonOrNull } from '../stored-json.ts';

const trials = (db: Kysely<Database>) =>
  db
    .selectFrom('trials')
    .leftJoin('people', 'people.id', 'trials.created_by')
    .selectAll('trials')
    .select('people.name as person_name');

type TrialRow = Awaited<ReturnType<ReturnType<typeof trials>['executeTakeFirstOrThrow']>>;

const trialFromRow = (row: TrialRow): ShopTrial => ({
  id: row.id,
  name: row.name,
  machineId: row.machine_id,
  plan: readJson(trialPlanSchema, row.plan_json),
  comparisonId: row.comparison_id,
  result: readJsonOrNull(trialResultSchema, row.result_json),
  createdAt: row.created_at,
  createdBy: personRef(row.created_by, row.person_name),
  updatedAt: row.updated_at,
});

export function trialsTable(db: Kysely<Database>): TrialStore {
  return {
    add: (trial) =>
      insertOnce(
        db.insertInto('trials').values({
          id: trial.id,
          name: trial.name,
          machine_id: trial.machineId,
          plan_json: JSON.stringify(trial.plan),
          comparison_id: null,
          result_json: null,
          created_at: trial.createdAt,
          created_by: trial.createdBy,
          updated_at: trial.createdAt,
          search_text: searchText(trial.name),
        }),
      ),
    async find(id) {
      const row = await trials(db).where('trials.id', '=', id).executeTakeFirst();
      return row === undefined ? null : trialFromRow(row);
    },
    async setResult(id, comparisonId, result, at) {
      await db
        .updateTable('trials')
        .set({ comparison_id: comparisonId, result_json: JSON.stringify(result), updated_at: at })
        .where('id', '=', id)
        .execute();
    },
    async remove(id) {
      const result = await db.deleteFrom('trials').where('id', '=', id).executeTakeFirst();
      return result.numDeletedRows > 0n;
    },
    async list(query) {
      let select = trials(db);
      const words = matchesWords('trials.search_text', query.q);
      if (words !== null) select = select.where(words);
      const sort = { name: 'trials.name', createdAt: 'trials.created_at' } as const;
      const page = await keysetPage(select, query, { sort, id: 'trials.id' });
      return {
        ...page,
        items: page.items.map((row) => ({
          id: row.id,
          name: row.name,
          machineId: row.machine_id,
          createdAt: row.created_at,
          isRead: row.result_json !== null,
        })),
      };
    },
  };
}
