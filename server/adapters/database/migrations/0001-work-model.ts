import { sql } from 'kysely';
import type { Migration } from 'kysely';

/**
 * Every list has an index in the order it is read, ending in the id, so that a page costs the same at any depth. Numbered
 * migrations are never edited once released.
 */
const STATEMENTS = [
  `create table people (
     id text primary key, name text not null, sign_in_name text not null unique, role text not null,
     is_active integer not null, password_hash text, created_at text not null, last_seen_at text, search_text text not null)`,
  `create table sessions (
     id text primary key, token_hash text not null unique, person_id text not null references people (id) on delete cascade,
     device text not null, created_at text not null, last_seen_at text not null, expires_at text not null)`,
  `create index sessions_by_person on sessions (person_id)`,
  `create table invitations (
     person_id text primary key references people (id) on delete cascade, token_hash text not null unique,
     expires_at text not null)`,
  `create table machines (
     id text primary key, name text not null, note text not null, machine_json text not null, dial_steps_json text not null,
     is_invented integer not null, is_put_away integer not null, created_at text not null, updated_at text not null,
     search_text text not null)`,
  `create table cards (
     id text primary key, name text not null, edition integer not null, note text not null, values_json text,
     values_text text, is_put_away integer not null, created_at text not null, updated_at text not null,
     search_text text not null)`,
  `create table jobs (
     id text primary key, name text not null, customer text not null, note text not null, is_invented integer not null,
     is_put_away integer not null, created_at text not null, created_by text references people (id),
     last_activity_at text not null, search_text text not null)`,
  `create index jobs_by_activity on jobs (last_activity_at, id)`,
  `create index jobs_by_name on jobs (name, id)`,
  `create table zones (
     id text primary key, job_id text not null references jobs (id) on delete cascade, name text not null,
     note text not null, surface_kind text not null, thickness_mm real, area_m2 real, target_grade text,
     machine_id text references machines (id), label_code text not null unique, is_put_away integer not null,
     standing text not null, created_at text not null, created_by text references people (id),
     last_activity_at text not null, search_text text not null)`,
  `create index zones_by_activity on zones (last_activity_at, id)`,
  `create index zones_by_name on zones (name, id)`,
  `create index zones_of_job on zones (job_id, standing)`,
  `create table photos (
     id text primary key, upload_id text unique, sha256 text not null, file_name text not null, media_type text not null,
     size_bytes integer not null, width_px integer not null, height_px integer not null, added_at text not null,
     added_by text references people (id))`,
  `create index photos_by_sha256 on photos (sha256)`,
  `create table rounds (
     id text primary key, zone_id text not null references zones (id) on delete cascade, number integer not null,
     settings_json text, machine_id text references machines (id), card_id text references cards (id), scrape_test text,
     heat_tint integer, minutes_spent real, note text not null, before_photo_id text references photos (id),
     before_outline_json text, after_photo_id text references photos (id), after_outline_json text,
     created_at text not null, created_by text references people (id), updated_at text not null,
     unique (zone_id, number))`,
  `create index rounds_of_before_photo on rounds (before_photo_id)`,
  `create index rounds_of_after_photo on rounds (after_photo_id)`,
  `create index rounds_of_machine on rounds (machine_id)`,
  `create table assessments (
     id text primary key, job_id text not null references jobs (id) on delete cascade,
     zone_id text not null references zones (id) on delete cascade,
     round_id text not null references rounds (id) on delete cascade, state text not null, queued_at text not null,
     started_at text, finished_at text, requested_by text references people (id), target_grade text,
     before_photo_id text references photos (id), after_photo_id text not null references photos (id),
     card_id text references cards (id), basis_json text not null, program_version text not null, residue_value real, residue_low real,
     residue_high real, stain_value real, stain_low real, stain_high real, streak_kind text, verdict text, decision text,
     minutes_per_square_metre real, card_error_median real, card_error_p95 real, card_error_max real, corrected_json text,
     fault_code text, fault_sentence text, overlay_sha256 text, before_map_json text, after_map_json text)`,
  `create index assessments_by_time on assessments (queued_at, id)`,
  `create index assessments_by_residue on assessments (residue_value, id) where residue_value is not null`,
  `create index assessments_of_job on assessments (job_id, queued_at, id)`,
  `create index assessments_of_job_by_residue on assessments (job_id, residue_value, id) where residue_value is not null`,
  `create index assessments_of_job_by_state on assessments (job_id, state, queued_at, id)`,
  `create index assessments_of_zone on assessments (zone_id, queued_at, id)`,
  `create index assessments_of_round on assessments (round_id, queued_at, id)`,
  `create index assessments_by_state on assessments (state, queued_at, id)`,
  `create index assessments_of_card on assessments (card_id, queued_at, id)`,
  `create index assessments_of_before_photo on assessments (before_photo_id)`,
  `create index assessments_of_after_photo on assessments (after_photo_id)`,
  `create table assessment_results (
     assessment_id text primary key references assessments (id) on delete cascade, result_json text not null)`,
  `create table corrections (
     id text primary key, assessment_id text not null references assessments (id) on delete cascade, map text not null,
     marks_json text not null, reason text not null, made_at text not null, made_by text references people (id),
     withdrawn_at text, withdrawn_by text references people (id))`,
  `create index corrections_of_assessment on corrections (assessment_id, made_at, id)`,
  `create table lessons (
     id text primary key, title text not null, note text not null,
     assessment_id text references assessments (id) on delete set null, settings_json text,
     machine_id text references machines (id), created_at text not null, created_by text references people (id),
     updated_at text not null, search_text text not null)`,
  `create index lessons_by_update on lessons (updated_at, id)`,
  `create table comparisons (
     id text primary key, title text not null, state text not null, request_json text not null, result_json text not null,
     fault_code text, fault_sentence text, created_at text not null, created_by text references people (id),
     search_text text not null)`,
  `create index comparisons_by_time on comparisons (created_at, id)`,
  `create table shop (key text primary key, value_json text not null)`,
  `create table queue (
     id integer primary key autoincrement, kind text not null, subject_id text not null unique, state text not null,
     turn integer not null, failures integer not null, interruptions integer not null, not_before text not null,
     enqueued_at text not null)`,
  `create index queue_by_turn on queue (state, turn)`,
];

export const workModel: Migration = {
  async up(db) {
    for (const statement of STATEMENTS) await sql.raw(statement).execute(db);
  },
};
