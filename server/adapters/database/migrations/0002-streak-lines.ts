import { sql } from 'kysely';
import type { Migration } from 'kysely';

/** Assessments made before this have no lines to draw. */
export const streakLines: Migration = {
  async up(db) {
    await sql`alter table assessment_results add column streak_lines_json text`.execute(db);
  },
};
