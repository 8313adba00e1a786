import type { Kysely } from 'kysely';
import { shopSchema } from '../../../domain/api/shop.ts';
import type { Shop } from '../../../domain/api/shop.ts';
import type { ShopStore } from '../../../services/shop-ports.ts';
import type { Database } from '../database-schema.ts';
import { insertOnce } from '../insert-once.ts';

const UNTOUCHED: Shop = {
  name: '',
  units: 'millimetres',
  paper: 'a4',
  usualTargetGrade: null,
  usualMachineId: null,
  usualCardId: null,
  hourlyRate: null,
  currency: 'EUR',
  isTwoPersonRuleOn: false,
  keepUnsignedMonths: null,
};

/** Rows `setting:<name>` and `mark:<name>`. */
export function shopTable(db: Kysely<Database>): ShopStore {
  return {
    async read() {
      const rows = await db.selectFrom('shop').selectAll().where('key', 'like', 'setting:%').execute();
      const stored = rows.map((row) => [row.key.slice('setting:'.length), JSON.parse(row.value_json)] as const);
      return shopSchema.parse({ ...UNTOUCHED, ...Object.fromEntries(stored) });
    },
    async change(change) {
      for (const [name, value] of Object.entries(change)) {
        if (value === undefined) continue;
        const columns = { value_json: JSON.stringify(value) };
        await db
          .insertInto('shop')
          .values({ key: `setting:${name}`, ...columns })
          .onConflict((conflict) => conflict.column('key').doUpdateSet(columns))
          .execute();
      }
    },
    markOnce: (mark) => insertOnce(db.insertInto('shop').values({ key: `mark:${mark}`, value_json: 'true' })),
  };
}
