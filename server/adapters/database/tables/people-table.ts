import type { Kysely, Selectable } from 'kysely';
import type { Person } from '../../../domain/api/people.ts';
import { roleSchema } from '../../../domain/api/roles.ts';
import type { PeopleStore } from '../../../services/people-ports.ts';
import type { Database } from '../database-schema.ts';
import { insertOnce } from '../insert-once.ts';
import { keysetPage } from '../keyset-page.ts';
import { matchesWords, searchText } from '../search-text.ts';
import { flag, given } from '../stored-json.ts';

export const personFromRow = (row: Selectable<Database['people']>): Person => ({
  id: row.id,
  name: row.name,
  signInName: row.sign_in_name,
  role: roleSchema.parse(row.role),
  isActive: row.is_active === 1,
  hasPassword: row.password_hash !== null,
  createdAt: row.created_at,
  lastSeenAt: row.last_seen_at,
});

export function peopleTable(db: Kysely<Database>): PeopleStore {
  return {
    add: (person) =>
      insertOnce(
        db.insertInto('people').values({
          id: person.id,
          name: person.name,
          sign_in_name: person.signInName,
          role: person.role,
          is_active: 1,
          password_hash: person.passwordHash,
          created_at: person.createdAt,
          last_seen_at: null,
          search_text: searchText(person.name, person.signInName),
        }),
      ),
    async find(id) {
      const row = await findRow(db, id);
      return row === undefined ? null : personFromRow(row);
    },
    async findForSignIn(signInName) {
      const row = await db.selectFrom('people').selectAll().where('sign_in_name', '=', signInName).executeTakeFirst();
      return row === undefined ? null : { person: personFromRow(row), passwordHash: row.password_hash };
    },
    passwordHashOf: async (id) => (await findRow(db, id))?.password_hash ?? null,
    change: (id, change) => changePerson(db, id, change),
    async setPassword(id, passwordHash) {
      await db.updateTable('people').set({ password_hash: passwordHash }).where('id', '=', id).execute();
    },
    async touch(id, at) {
      await db.updateTable('people').set({ last_seen_at: at }).where('id', '=', id).execute();
    },
    async countAdministrators() {
      const row = await db
        .selectFrom('people')
        .select((e) => e.fn.countAll().as('count'))
        .where('role', '=', 'administrator')
        .where('is_active', '=', 1)
        .where('password_hash', 'is not', null)
        .executeTakeFirstOrThrow();
      return Number(row.count);
    },
    async countAll() {
      const row = await db
        .selectFrom('people')
        .select((e) => e.fn.countAll().as('count'))
        .executeTakeFirstOrThrow();
      return Number(row.count);
    },
    list: (query) => listPeople(db, query),
  };
}

async function listPeople(
  db: Kysely<Database>,
  query: Parameters<PeopleStore['list']>[0],
): ReturnType<PeopleStore['list']> {
  let select = db.selectFrom('people').selectAll();
  const words = matchesWords('people.search_text', query.q);
  if (words !== null) select = select.where(words);
  if (query.inactive !== 'all') select = select.where('is_active', '=', flag(query.inactive === 'no'));
  if (query.role !== undefined) select = select.where('role', '=', query.role);
  if (query.sort.endsWith('lastSeenAt')) select = select.where('last_seen_at', 'is not', null);
  const page = await keysetPage(select, query, {
    sort: { name: 'people.name', createdAt: 'people.created_at', lastSeenAt: 'people.last_seen_at' },
    id: 'people.id',
  });
  return { ...page, items: page.items.map(personFromRow) };
}

const findRow = (db: Kysely<Database>, id: string): Promise<Selectable<Database['people']> | undefined> =>
  db.selectFrom('people').selectAll().where('id', '=', id).executeTakeFirst();

async function changePerson(
  db: Kysely<Database>,
  id: string,
  change: Parameters<PeopleStore['change']>[1],
): Promise<boolean> {
  const row = await findRow(db, id);
  if (row === undefined) return false;
  const columns = given({
    name: change.name,
    role: change.role,
    is_active: change.isActive === undefined ? undefined : flag(change.isActive),
    search_text: change.name === undefined ? undefined : searchText(change.name, row.sign_in_name),
  });
  if (Object.keys(columns).length > 0) await db.updateTable('people').set(columns).where('id', '=', id).execute();
  return true;
}
