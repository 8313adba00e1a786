import { sql } from 'kysely';
import type { Kysely } from 'kysely';
import type { Ledger, Tables } from '../../services/ledger.ts';
import type { Database } from './database-schema.ts';
import { openDatabase } from './open-database.ts';
import { assessmentsTable } from './tables/assessments-table.ts';
import { auditTable } from './tables/audit-table.ts';
import { cardsTable } from './tables/cards-table.ts';
import { comparisonsTable } from './tables/comparisons-table.ts';
import { correctionsTable } from './tables/corrections-table.ts';
import { jobsTable } from './tables/jobs-table.ts';
import { lessonsTable } from './tables/lessons-table.ts';
import { machinesTable } from './tables/machines-table.ts';
import { peopleTable } from './tables/people-table.ts';
import { photosTable } from './tables/photos-table.ts';
import { queueTable } from './tables/queue-table.ts';
import { recordsTable } from './tables/records-table.ts';
import { roundsTable } from './tables/rounds-table.ts';
import { invitationsTable, sessionsTable } from './tables/sessions-table.ts';
import { shopTable } from './tables/shop-table.ts';
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

async function namedObjects(db: Kysely<Database>): Promise<ReadonlySet<string>> {
  const photos = await db.selectFrom('photos').select('sha256').distinct().execute();
  const files = await db
    .selectFrom('assessments')
    .select([
      'overlay_sha256 as overlay',
      sql<string | null>`json_extract(before_map_json, '$.sha256')`.as('before'),
      sql<string | null>`json_extract(after_map_json, '$.sha256')`.as('after'),
      sql<string | null>`json_extract(before_map_json, '$.doubtfulSha256')`.as('beforeDoubt'),
      sql<string | null>`json_extract(after_map_json, '$.doubtfulSha256')`.as('afterDoubt'),
    ])
    .where('overlay_sha256', 'is not', null)
    .execute();
  const recordFiles = await db.selectFrom('record_files').select('sha256').distinct().execute();
  const named = [
    ...recordFiles.map((file) => file.sha256),
    ...photos.map((photo) => photo.sha256),
    ...files.flatMap((row) => [row.overlay, row.before, row.after, row.beforeDoubt, row.afterDoubt]),
  ];
  return new Set(named.filter((sha256) => sha256 !== null));
}
