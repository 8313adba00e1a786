import { sql } from 'kysely';
import type { Kysely } from 'kysely';
import { WORK_KINDS } from '../../../services/queue-ports.ts';
import type { WorkItem, WorkKind, WorkQueue } from '../../../services/queue-ports.ts';
import type { Database } from '../database-schema.ts';

/** After this many deaths of the process under an item the others go first: it may be what kills. */
const INTERRUPTIONS_BEFORE_THE_END = 3;

const kindOf = (text: string): WorkKind => {
  const kind = WORK_KINDS.find((known) => known === text);
  if (kind === undefined) throw new Error(`Expected a kind of work but the queue holds "${text}"`);
  return kind;
};

export function queueTable(db: Kysely<Database>): WorkQueue {
  return {
    enqueue: (kind, subjectId, at) => enqueue(db, { kind, subjectId, at }),
    lease: (now) => lease(db, now),
    async finish(id) {
      await db.deleteFrom('queue').where('id', '=', id).execute();
    },
    async retry(id, notBefore) {
      await db
        .updateTable('queue')
        .set((e) => ({ state: 'waiting' as const, failures: e('failures', '+', 1), not_before: notBefore }))
        .where('id', '=', id)
        .execute();
    },
    async release(id) {
      await db.updateTable('queue').set({ state: 'waiting' }).where('id', '=', id).execute();
    },
    recover: () => recover(db),
    async remove(subjectId) {
      await db.deleteFrom('queue').where('subject_id', '=', subjectId).execute();
    },
    async counts() {
      const rows = await db
        .selectFrom('queue')
        .select(['state', (e) => e.fn.countAll<number>().as('count')])
        .groupBy('state')
        .execute();
      const count = (state: string): number => rows.find((row) => row.state === state)?.count ?? 0;
      return { waiting: count('waiting'), running: count('leased') };
    },
    async waitingBefore(subjectId) {
      const row = await db
        .selectFrom('queue as mine')
        .select(sql<number>`(select count(*) from queue where state = 'waiting' and turn < mine.turn)`.as('before'))
        .where('mine.subject_id', '=', subjectId)
        .where('mine.state', '=', 'waiting')
        .executeTakeFirst();
      return row?.before ?? null;
    },
  };
}

const nextTurn = () => sql<number>`(select coalesce(max(turn), 0) + 1 from queue)`;

const itemFromRow = (row: Omit<Database['queue'], 'id'> & { id: number }): WorkItem => ({
  id: row.id,
  kind: kindOf(row.kind),
  subjectId: row.subject_id,
  failures: row.failures,
  interruptions: row.interruptions,
});

async function recover(db: Kysely<Database>): Promise<number> {
  const leased = await db.selectFrom('queue').selectAll().where('state', '=', 'leased').orderBy('turn').execute();
  for (const row of leased) {
    const interruptions = row.interruptions + 1;
    const goesLast = interruptions > INTERRUPTIONS_BEFORE_THE_END;
    await db
      .updateTable('queue')
      .set({ state: 'waiting', interruptions, ...(goesLast ? { turn: nextTurn() } : {}) })
      .where('id', '=', row.id)
      .execute();
  }
  return leased.length;
}

async function enqueue(
  db: Kysely<Database>,
  { kind, subjectId, at }: { kind: WorkKind; subjectId: string; at: string },
): Promise<void> {
  await db
    .insertInto('queue')
    .values({
      kind,
      subject_id: subjectId,
      state: 'waiting',
      turn: nextTurn(),
      failures: 0,
      interruptions: 0,
      not_before: at,
      enqueued_at: at,
    })
    .onConflict((conflict) => conflict.column('subject_id').doNothing())
    .execute();
}

async function lease(db: Kysely<Database>, now: string): Promise<WorkItem | null> {
  const row = await db
    .updateTable('queue')
    .set({ state: 'leased' })
    .where('id', '=', (e) =>
      e
        .selectFrom('queue')
        .select('id')
        .where('state', '=', 'waiting')
        .where('not_before', '<=', now)
        .orderBy('turn')
        .limit(1),
    )
    .returningAll()
    .executeTakeFirst();
  return row === undefined ? null : itemFromRow(row);
}
