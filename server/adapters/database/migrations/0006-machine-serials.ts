import { sql } from 'kysely';
import type { Migration } from 'kysely';

/** Which machine it was, by the number on its plate; empty where nobody stated it. */
export const machineSerials: Migration = {
  async up(db) {
    await sql`alter table machines add column serial_number text not null default ''`.execute(db);
  },
};
