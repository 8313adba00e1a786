import { sql } from 'kysely';
import type { Kysely } from 'kysely';
import type { Ledger, Tables } from '../../services/ledger.ts';
import type { Database } from './database-schema.ts';
import { namedObjects } from './named-objects.ts';
import { openDatabase } from './open-database.ts';
import { assessmentsTable } from './tables/assessments-table.ts';
import { auditTable } from './tables/audit-table.ts';
import { cardsTable } from './tables/cards-table.ts';
import { comparisonsTable } from './tables/comparisons-table.ts';
import { correctionsTable } from './tables/corrections-table.ts';
import { jobsTable } from './tables/jobs-table.ts';
import { lessonsTable } from './tables/lessons-table.ts';
import { learningTable } from './tables/learning-table.ts';
import { machinesTable } from './tables/machines-table.ts';
import { peopleTable } from './tables/people-table.ts';
import { photosTable } from './tables/photos-table.ts';
import { queueTable } from './tables/queue-table.ts';
import { recordsTable } from './tables/records-table.ts';
import { roundsTable } from './tables/rounds-table.ts';
import { invitationsTable, sessionsTable } from './tables/sessions-table.ts';
import { shopTable } from './tables/shop-table.ts';
import { testPatchesTable } from './tables/test-patches-table.ts';
import { trialsTable } from './tables/trials-table.ts';
import { zonesTable } from './tables/zones-table.ts';

const tablesOf = (db: Kysely<Database>): Tables => ({
  people: peopleTable(db),
  sessions: sessionsTable(db),
  invitations: invitationsTable(db),
  jobs: jobsTable(db),
  zones: zonesTable(db),
  rounds: roundsTable(db),
  photos: photosTable(db),
  assessments: assessmentsTable(db),
  corrections: correctionsTable(db),
  machines: machinesTable(db),
  cards: cardsTable(db),
  lessons: lessonsTable(db),
  comparisons: comparisonsTable(db),
  trials: trialsTable(db),
  testPatches: testPatchesTable(db),
  learning: learningTable(db),
  shop: shopTable(db),
  queue: queueTable(db),
  records: recordsTable(db),
  audit: auditTable(db),
});

/** The ledger in one SQLite file. */
export async function openSqliteLedger(path: string): Promise<Ledger> {
  const db = await openDatabase(path);
  return {
    ...tablesOf(db),
    transact: (work) => db.transaction().execute((step) => work(tablesOf(step))),
    namedObjects: () => namedObjects(db),
    async ping() {
      await sql`select 1`.execute(db);
    },
    close: () => db.destroy(),
  };
}
