import { sql } from 'kysely';
import type { Kysely, Selectable, SqlBool } from 'kysely';
import { dialStepsSchema } from '../../../domain/api/machines.ts';
import type { ShopMachine } from '../../../domain/api/machines.ts';
import { machineSchema } from '../../../domain/index.ts';
import type { MachineStore } from '../../../services/shop-ports.ts';
import type { Database } from '../database-schema.ts';
import { insertOnce } from '../insert-once.ts';
import { keysetPage } from '../keyset-page.ts';
import { matchesWords, searchText } from '../search-text.ts';
import { flag, given, readJson } from '../stored-json.ts';

const machineFromRow = (row: Selectable<Database['machines']>): ShopMachine => ({
  id: row.id,
  name: row.name,
  serialNumber: row.serial_number,
  note: row.note,
  machine: readJson(machineSchema, row.machine_json),
  dialSteps: readJson(dialStepsSchema, row.dial_steps_json),
  isInvented: row.is_invented === 1,
  isPutAway: row.is_put_away === 1,
  createdAt: row.created_at,
  updatedAt: row.updated_at,
});

export function machinesTable(db: Kysely<Database>): MachineStore {
  return {
    add: (machine) =>
      insertOnce(
        db.insertInto('machines').values({
          id: machine.id,
          name: machine.name,
          serial_number: machine.serialNumber,
          note: machine.note,
          machine_json: JSON.stringify(machine.machine),
          dial_steps_json: JSON.stringify(machine.dialSteps),
          is_invented: flag(machine.isInvented),
          is_put_away: 0,
          created_at: machine.createdAt,
          updated_at: machine.createdAt,
          search_text: searchText(machine.name),
        }),
      ),
    async find(id) {
      const row = await db.selectFrom('machines').selectAll().where('id', '=', id).executeTakeFirst();
      return row === undefined ? null : machineFromRow(row);
    },
    async change(id, change, at) {
      const columns = given({
        name: change.name,
        serial_number: change.serialNumber,
        note: change.note,
        machine_json: change.machine === undefined ? undefined : JSON.stringify(change.machine),
        dial_steps_json: change.dialSteps === undefined ? undefined : JSON.stringify(change.dialSteps),
        is_put_away: change.isPutAway === undefined ? undefined : flag(change.isPutAway),
        search_text: change.name === undefined ? undefined : searchText(change.name),
        updated_at: at,
      });
      const result = await db.updateTable('machines').set(columns).where('id', '=', id).executeTakeFirst();
      return result.numUpdatedRows > 0n;
    },
    async isUsed(id) {
      const row = await db
        .selectNoFrom(
          sql<SqlBool>`exists (select 1 from rounds where machine_id = ${id})
            or exists (select 1 from zones where machine_id = ${id})
            or exists (select 1 from lessons where machine_id = ${id})
            or exists (select 1 from trials where machine_id = ${id})
            or exists (select 1 from test_patches where machine_id = ${id})`.as('used'),
        )
        .executeTakeFirstOrThrow();
      return Boolean(row.used);
    },
    async remove(id) {
      const result = await db.deleteFrom('machines').where('id', '=', id).executeTakeFirst();
      return result.numDeletedRows > 0n;
    },
    list: (query) => listMachines(db, query),
  };
}

async function listMachines(
  db: Kysely<Database>,
  query: Parameters<MachineStore['list']>[0],
): ReturnType<MachineStore['list']> {
  let select = db.selectFrom('machines').selectAll();
  const words = matchesWords('machines.search_text', query.q);
  if (words !== null) select = select.where(words);
  if (query.putAway !== 'all') select = select.where('is_put_away', '=', flag(query.putAway === 'yes'));
  const page = await keysetPage(select, query, {
    sort: { name: 'machines.name', createdAt: 'machines.created_at' },
    id: 'machines.id',
  });
  return { ...page, items: page.items.map(machineFromRow) };
}
