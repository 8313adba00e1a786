import { sql } from 'kysely';
import type { Migration } from 'kysely';

/**
 * What is signed or logged is kept by the database itself: triggers refuse to change or remove it, whatever the program above
 * them does. A signed record is only ever marked superseded and given its time stamp.
 */
const STATEMENTS = [
  `create table audit_log (sequence integer primary key, entry_json text not null)`,
  `create trigger audit_log_is_never_changed before update on audit_log
   begin select raise(abort, 'the audit log is append-only'); end`,
  `create trigger audit_log_is_never_removed before delete on audit_log
   begin select raise(abort, 'the audit log is append-only'); end`,
  `create table records (
     id text primary key, zone_id text not null references zones (id) on delete cascade, state text not null,
     readings_json text not null, record_text text, seal_json text, supersedes_id text references records (id),
     signed_at text, signer_name text, time_stamp_base64 text, created_at text not null,
     created_by text references people (id), updated_at text not null)`,
  `create index records_of_zone on records (zone_id, created_at, id)`,
  `create index records_by_time on records (created_at, id)`,
  `create index records_by_state on records (state, created_at, id)`,
  `create index records_that_supersede on records (supersedes_id)`,
  `create trigger signed_records_are_never_changed before update on records
   when old.seal_json is not null and (
     new.id is not old.id or new.zone_id is not old.zone_id or new.readings_json is not old.readings_json
     or new.record_text is not old.record_text or new.seal_json is not old.seal_json
     or new.supersedes_id is not old.supersedes_id or new.signed_at is not old.signed_at
     or new.signer_name is not old.signer_name or new.created_at is not old.created_at
     or new.created_by is not old.created_by
     or (new.state is not old.state and new.state is not 'superseded')
     or (old.time_stamp_base64 is not null and new.time_stamp_base64 is not old.time_stamp_base64))
   begin select raise(abort, 'a signed record is never changed'); end`,
  `create trigger signed_records_are_never_removed before delete on records when old.seal_json is not null
   begin select raise(abort, 'a signed record is never removed'); end`,
  `create table record_files (
     record_id text not null references records (id) on delete cascade, path text not null, sha256 text not null,
     primary key (record_id, path)) without rowid`,
  `create index record_files_by_sha256 on record_files (sha256)`,
  `create trigger files_of_signed_records_are_never_changed before update on record_files
   when exists (select 1 from records where id = old.record_id and seal_json is not null)
   begin select raise(abort, 'a signed record is never changed'); end`,
  `create trigger files_of_signed_records_are_never_removed before delete on record_files
   when exists (select 1 from records where id = old.record_id and seal_json is not null)
   begin select raise(abort, 'a signed record is never removed'); end`,
];

export const records: Migration = {
  async up(db) {
    for (const statement of STATEMENTS) await sql.raw(statement).execute(db);
  },
};
