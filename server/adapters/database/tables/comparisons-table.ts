import type { Kysely } from 'kysely';
import { runStateSchema } from '../../../domain/api/assessments.ts';
import type { Progress } from '../../../domain/api/assessments.ts';
import { newComparisonSchema, shopComparisonSchema } from '../../../domain/api/comparisons.ts';
import { fraction } from '../../../domain/index.ts';
import type { ComparisonStore } from '../../../services/shop-ports.ts';
import type { Database } from '../database-schema.ts';
import { insertOnce } from '../insert-once.ts';
import { keysetPage } from '../keyset-page.ts';
import { personRef } from '../person-ref.ts';
import { matchesWords, searchText } from '../search-text.ts';
import { readJson } from '../stored-json.ts';
import { faultNote } from './assessment-summaries.ts';

const resultSchema = shopComparisonSchema.pick({ sides: true, pairs: true, warnings: true });

const comparisons = (db: Kysely<Database>) =>
  db
    .selectFrom('comparisons')
    .leftJoin('people', 'people.id', 'comparisons.created_by')
    .selectAll('comparisons')
    .select('people.name as person_name');

type ComparisonRow = Awaited<ReturnType<ReturnType<typeof comparisons>['executeTakeFirstOrThrow']>>;

const progressFromRow = (row: ComparisonRow): Progress => {
  const state = runStateSchema.parse(row.state);
  const isOver = state === 'done' || state === 'failed';
  return { state, stage: null, fractionDone: fraction(isOver ? 1 : 0), waitingBefore: 0, fault: faultNote(row) };
};

const headFromRow = (row: ComparisonRow) => ({
  id: row.id,
  title: row.title,
  progress: progressFromRow(row),
  createdAt: row.created_at,
  createdBy: personRef(row.created_by, row.person_name),
});

export function comparisonsTable(db: Kysely<Database>): ComparisonStore {
  const update = async (id: string, columns: Partial<Database['comparisons']>): Promise<void> => {
    await db.updateTable('comparisons').set(columns).where('id', '=', id).execute();
  };
  return {
    add: (comparison) =>
      insertOnce(
        db.insertInto('comparisons').values({
          id: comparison.id,
          title: comparison.title,
          state: comparison.state,
          request_json: JSON.stringify(comparison.of),
          result_json: JSON.stringify({
            sides: comparison.sides,
            pairs: comparison.pairs,
            warnings: comparison.warnings,
          }),
          fault_code: null,
          fault_sentence: null,
          created_at: comparison.createdAt,
          created_by: comparison.createdBy,
          search_text: searchText(comparison.title),
        }),
      ),
    async find(id) {
      const row = await comparisons(db).where('comparisons.id', '=', id).executeTakeFirst();
      return row === undefined ? null : { ...headFromRow(row), ...readJson(resultSchema, row.result_json) };
    },
    async requestOf(id) {
      const row = await db.selectFrom('comparisons').select('request_json').where('id', '=', id).executeTakeFirst();
      return row === undefined ? null : readJson(newComparisonSchema.shape.of, row.request_json);
    },
    start: (id) => update(id, { state: 'running' }),
    finish: (id, result) => update(id, { state: 'done', result_json: JSON.stringify(result) }),
    fail: (id, fault) => update(id, { state: 'failed', fault_code: fault.code, fault_sentence: fault.sentence }),
    async remove(id) {
      const result = await db.deleteFrom('comparisons').where('id', '=', id).executeTakeFirst();
      return result.numDeletedRows > 0n;
    },
    async list(query) {
      let select = comparisons(db);
      const words = matchesWords('comparisons.search_text', query.q);
      if (words !== null) select = select.where(words);
      const page = await keysetPage(select, query, {
        sort: { title: 'comparisons.title', createdAt: 'comparisons.created_at' },
        id: 'comparisons.id',
      });
      return { ...page, items: page.items.map((row) => headFromRow(row)) };
    },
    async listOwed() {
      const rows = await db
        .selectFrom('comparisons')
        .select(['id', 'state'])
        .where('state', 'in', ['queued', 'running'])
        .execute();
      return rows.map((row) => ({ id: row.id, state: runStateSchema.parse(row.state) }));
    },
  };
}
