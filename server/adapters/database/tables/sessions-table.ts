import type { Kysely, Selectable } from 'kysely';
import type { InvitationStore, SessionStore, StoredSession } from '../../../services/people-ports.ts';
import type { Database } from '../database-schema.ts';
import { personFromRow } from './people-table.ts';

const sessionFromRow = (row: Omit<Selectable<Database['sessions']>, 'token_hash'>): StoredSession => ({
  id: row.id,
  personId: row.person_id,
  device: row.device,
  createdAt: row.created_at,
  lastSeenAt: row.last_seen_at,
  expiresAt: row.expires_at,
});

export function sessionsTable(db: Kysely<Database>): SessionStore {
  return {
    async add(session) {
      await db
        .insertInto('sessions')
        .values({
          id: session.id,
          token_hash: session.tokenHash,
          person_id: session.personId,
          device: session.device,
          created_at: session.createdAt,
          last_seen_at: session.lastSeenAt,
          expires_at: session.expiresAt,
        })
        .execute();
    },
    async findByTokenHash(tokenHash) {
      const row = await db.selectFrom('sessions').selectAll().where('token_hash', '=', tokenHash).executeTakeFirst();
      if (row === undefined) return null;
      const person = await db
        .selectFrom('people')
        .selectAll()
        .where('id', '=', row.person_id)
        .executeTakeFirstOrThrow();
      return { session: sessionFromRow(row), person: personFromRow(person) };
    },
    async touch(id, at) {
      await db.updateTable('sessions').set({ last_seen_at: at }).where('id', '=', id).execute();
    },
    async remove(id) {
      await db.deleteFrom('sessions').where('id', '=', id).execute();
    },
    async removeOwn(id, personId) {
      const result = await db
        .deleteFrom('sessions')
        .where('id', '=', id)
        .where('person_id', '=', personId)
        .executeTakeFirst();
      return result.numDeletedRows > 0n;
    },
    async removeAllOf(personId, exceptId) {
      let removal = db.deleteFrom('sessions').where('person_id', '=', personId);
      if (exceptId !== null) removal = removal.where('id', '!=', exceptId);
      await removal.execute();
    },
    async listOf(personId) {
      const rows = await db
        .selectFrom('sessions')
        .selectAll()
        .where('person_id', '=', personId)
        .orderBy('last_seen_at', 'desc')
        .execute();
      return rows.map(sessionFromRow);
    },
    async removeExpired(now) {
      await db.deleteFrom('sessions').where('expires_at', '<', now).execute();
      await db.deleteFrom('invitations').where('expires_at', '<', now).execute();
    },
  };
}

export function invitationsTable(db: Kysely<Database>): InvitationStore {
  return {
    async replace({ personId, tokenHash, expiresAt }) {
      const columns = { token_hash: tokenHash, expires_at: expiresAt };
      await db
        .insertInto('invitations')
        .values({ person_id: personId, ...columns })
        .onConflict((conflict) => conflict.column('person_id').doUpdateSet(columns))
        .execute();
    },
    async findByTokenHash(tokenHash) {
      const row = await db.selectFrom('invitations').selectAll().where('token_hash', '=', tokenHash).executeTakeFirst();
      return row === undefined ? null : { personId: row.person_id, expiresAt: row.expires_at };
    },
    async remove(personId) {
      await db.deleteFrom('invitations').where('person_id', '=', personId).execute();
    },
  };
}
