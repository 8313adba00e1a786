import { sql } from 'kysely';
import type { Migration } from 'kysely';

/** What the phone's clock said; of photos stored before this it was not read. */
export const photoTimes: Migration = {
  async up(db) {
    await sql`alter table photos add column taken_at_json text`.execute(db);
  },
};
