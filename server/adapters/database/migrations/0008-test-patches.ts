import { sql } from 'kysely';
import type { Migration } from 'kysely';

const STATEMENTS = [
  `create table test_patches (
     id text primary key, zone_id text not null references zones (id) on delete cascade, after_round integer not null,
     settings_json text not null, machine_id text references machines (id), scrape_test text, heat_tint integer,
     residue_json text not null, how text not null,
     comparison_id text references comparisons (id) on delete set null, travel_speed_json text,
     created_at text not null, created_by text references people (id))`,
  `create index test_patches_of_zone on test_patches (zone_id, created_at, id)`,
];

/** Patches of a zone that were tried by themselves. */
export const testPatches: Migration = {
  async up(db) {
    for (const statement of STATEMENTS) await sql.raw(statement).execute(db);
  },
};
