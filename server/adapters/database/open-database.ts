import SqliteFile from 'better-sqlite3';
import { Kysely, Migrator } from 'kysely';
import type { Database } from './database-schema.ts';
import { immediateSqlite } from './immediate-sqlite.ts';
import { workModel } from './migrations/0001-work-model.ts';
import { streakLines } from './migrations/0002-streak-lines.ts';
import { records } from './migrations/0003-records.ts';
import { trials } from './migrations/0004-trials.ts';
import { photoTimes } from './migrations/0005-photo-times.ts';
import { machineSerials } from './migrations/0006-machine-serials.ts';
import { trainingConsent } from './migrations/0007-training-consent.ts';
import { testPatches } from './migrations/0008-test-patches.ts';

const MIGRATIONS = {
  '0001-work-model': workModel,
  '0002-streak-lines': streakLines,
  '0003-records': records,
  '0004-trials': trials,
  '0005-photo-times': photoTimes,
  '0006-machine-serials': machineSerials,
  '0007-training-consent': trainingConsent,
  '0008-test-patches': testPatches,
};

/** How long a statement waits for a reader of another process (a backup), ms. */
const BUSY_TIMEOUT_MS = 5000;

/**
 * Opens the database file and brings it to this version. What a transaction has answered survives the loss of power:
 * write-ahead log, and every commit flushed. Source: [SQLITE-WAL].
 * @throws Error when the file was written by a newer version of the program
 */
export async function openDatabase(path: string): Promise<Kysely<Database>> {
  const file = new SqliteFile(path);
  file.pragma('journal_mode = WAL');
  file.pragma('synchronous = FULL');
  file.pragma('foreign_keys = ON');
  file.pragma(`busy_timeout = ${BUSY_TIMEOUT_MS}`);
  const db = new Kysely<Database>({ dialect: immediateSqlite(file) });
  const migrator = new Migrator({ db, provider: { getMigrations: () => Promise.resolve(MIGRATIONS) } });
  const { error } = await migrator.migrateToLatest();
  if (error !== undefined) {
    await db.destroy();
    throw new Error(`The database ${path} cannot be brought to this version: ${describe(error)}`, { cause: error });
  }
  return db;
}

const describe = (error: unknown): string => (error instanceof Error ? error.message : String(error));
