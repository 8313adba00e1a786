import type { Kysely, Selectable } from 'kysely';
import { shopCardSchema } from '../../../domain/api/cards.ts';
import type { ShopCard } from '../../../domain/api/cards.ts';
import type { CardStore } from '../../../services/shop-ports.ts';
import type { Database } from '../database-schema.ts';
import { insertOnce } from '../insert-once.ts';
import { keysetPage } from '../keyset-page.ts';
import { matchesWords, searchText } from '../search-text.ts';
import { flag, given, readJson } from '../stored-json.ts';

const cardFromRow = (row: Selectable<Database['cards']>): ShopCard => ({
  id: row.id,
  name: row.name,
  edition: row.edition,
  note: row.note,
  values: readJson(shopCardSchema.shape.values, row.values_json ?? 'null'),
  isPutAway: row.is_put_away === 1,
  createdAt: row.created_at,
  updatedAt: row.updated_at,
});

export function cardsTable(db: Kysely<Database>): CardStore {
  return {
    add: (card) =>
      insertOnce(
        db.insertInto('cards').values({
          id: card.id,
          name: card.name,
          edition: card.edition,
          note: card.note,
          values_json: null,
          values_text: null,
          is_put_away: 0,
          created_at: card.createdAt,
          updated_at: card.createdAt,
          search_text: searchText(card.name),
        }),
      ),
    async find(id) {
      const row = await db.selectFrom('cards').selectAll().where('id', '=', id).executeTakeFirst();
      return row === undefined ? null : cardFromRow(row);
    },
    async valuesTextOf(id) {
      const row = await db.selectFrom('cards').select('values_text').where('id', '=', id).executeTakeFirst();
      return row?.values_text ?? null;
    },
    async setValues(id, values, at) {
      let columns: { values_json: string | null; values_text: string | null };
      if (values === null) columns = { values_json: null, values_text: null };
      else {
        const { text, ...described } = values;
        columns = { values_json: JSON.stringify(described), values_text: text };
      }
      const result = await db
        .updateTable('cards')
        .set({ ...columns, updated_at: at })
        .where('id', '=', id)
        .executeTakeFirst();
      return result.numUpdatedRows > 0n;
    },
    async change(id, change, at) {
      const columns = given({
        name: change.name,
        note: change.note,
        is_put_away: change.isPutAway === undefined ? undefined : flag(change.isPutAway),
        search_text: change.name === undefined ? undefined : searchText(change.name),
        updated_at: at,
      });
      const result = await db.updateTable('cards').set(columns).where('id', '=', id).executeTakeFirst();
      return result.numUpdatedRows > 0n;
    },
    list: (query) => listCards(db, query),
  };
}

async function listCards(db: Kysely<Database>, query: Parameters<CardStore['list']>[0]): ReturnType<CardStore['list']> {
  let select = db.selectFrom('cards').selectAll();
  const words = matchesWords('cards.search_text', query.q);
  if (words !== null) select = select.where(words);
  if (query.putAway !== 'all') select = select.where('is_put_away', '=', flag(query.putAway === 'yes'));
  const page = await keysetPage(select, query, {
    sort: { name: 'cards.name', createdAt: 'cards.created_at' },
    id: 'cards.id',
  });
  return { ...page, items: page.items.map(cardFromRow) };
}
