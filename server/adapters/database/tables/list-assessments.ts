import { sql } from 'kysely';
import type { Kysely, RawBuilder, SelectQueryBuilder, SqlBool } from 'kysely';
import type { z } from 'zod';
import type { AssessmentSummary, assessmentsQuerySchema } from '../../../domain/api/assessments.ts';
import type { Page } from '../../../domain/api/paging.ts';
import type { Database } from '../database-schema.ts';
import { keysetPage } from '../keyset-page.ts';
import { matchesWords } from '../search-text.ts';
import { assessmentRows, summaryFromRow } from './assessment-summaries.ts';

type Query = z.output<typeof assessmentsQuerySchema>;

/**
 * Up to this many hits they are gathered and sorted; beyond it hits are so frequent that walking the order finds a page
 * soon. Either way the cost stays bounded however many assessments there are.
 */
const MOST_GATHERED = 2000;
const MOST_GATHERED_ZONES = 500;

export async function listAssessments(db: Kysely<Database>, query: Query): Promise<Page<AssessmentSummary>> {
  let select = assessmentRows(db);
  if (query.jobId !== undefined) select = select.where('assessments.job_id', '=', query.jobId);
  if (query.zoneId !== undefined) select = select.where('assessments.zone_id', '=', query.zoneId);
  if (query.roundId !== undefined) select = select.where('assessments.round_id', '=', query.roundId);
  const isByResidue = query.sort === 'residue' || query.sort === '-residue';
  if (isByResidue) {
    // What is measured is done: the order by residue needs no other look at the state.
    if (query.state !== undefined && query.state !== 'done') return { items: [], nextCursor: null };
    select = select.where('assessments.residue_value', 'is not', null);
  } else if (query.state !== undefined) select = select.where('assessments.state', '=', query.state);
  const page = await keysetPage(await withWords(db, select, query.q), query, {
    sort: { queuedAt: 'assessments.queued_at', residue: 'assessments.residue_value' },
    id: 'assessments.id',
  });
  return { ...page, items: page.items.map((row) => summaryFromRow(row)) };
}

/** Keeps assessments whose zone or job is named by the words. */
async function withWords<T extends keyof Database, Row>(
  db: Kysely<Database>,
  select: SelectQueryBuilder<Database, T, Row>,
  q: string | undefined,
): Promise<SelectQueryBuilder<Database, T, Row>> {
  const words = matchesWords('zones.search_text', q);
  if (words === null) return select;
  const zones = await db
    .selectFrom('zones')
    .select('id')
    .where(words)
    .limit(MOST_GATHERED_ZONES + 1)
    .execute();
  if (zones.length > MOST_GATHERED_ZONES) return select.where(words);
  const hits = await db
    .selectFrom('assessments')
    .select('id')
    .where(isAmong('zone_id', zones))
    .limit(MOST_GATHERED + 1)
    .execute();
  return select.where(hits.length > MOST_GATHERED ? words : isAmong('assessments.id', hits));
}

const isAmong = (column: string, rows: readonly { readonly id: string }[]): RawBuilder<SqlBool> =>
  sql<SqlBool>`${sql.ref(column)} in (select value from json_each(${JSON.stringify(rows.map((row) => row.id))}))`;
