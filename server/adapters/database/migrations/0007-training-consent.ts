import { sql } from 'kysely';
import type { Migration } from 'kysely';

/** Whether somebody agreed that a correction may teach the segmenter; nobody was asked before this. */
export const trainingConsent: Migration = {
  async up(db) {
    await sql`alter table corrections add column may_train integer not null default 0`.execute(db);
  },
};
