import { sql } from 'kysely';
import type { Migration } from 'kysely';

const STATEMENTS = [
  `create table trials (
     id text primary key, name text not null, machine_id text not null references machines (id), plan_json text not null,
     comparison_id text references comparisons (id) on delete set null, result_json text, created_at text not null,
     created_by text references people (id), updated_at text not null, search_text text not null)`,
  `create index trials_by_time on trials (created_at, id)`,
  `create table forgotten_learning (
     machine_id text not null references machines (id) on delete cascade, kind text not null, forgotten_at text not null,
     primary key (machine_id, kind))`,
];

/** Trials, and from when on rounds are learned from again. */
export const trials: Migration = {
  async up(db) {
    for (const statement of STATEMENTS) await sql.raw(statement).execute(db);
  },
};
