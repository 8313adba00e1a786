import type { Kysely } from 'kysely';
import { zonePatchSchema } from '../../../domain/api/test-patches.ts';
import type { ZonePatch } from '../../../domain/api/test-patches.ts';
import { measuredSchema, settingsSchema } from '../../../domain/index.ts';
import type { TestPatchStore } from '../../../services/trial-ports.ts';
import type { Database } from '../database-schema.ts';
import { insertOnce } from '../insert-once.ts';
import { personRef } from '../person-ref.ts';
import { flag, readJson, readJsonOrNull, writeJsonOrNull } from '../stored-json.ts';

const patches = (db: Kysely<Database>) =>
  db
    .selectFrom('test_patches')
    .leftJoin('people', 'people.id', 'test_patches.created_by')
    .selectAll('test_patches')
    .select('people.name as person_name');

type PatchRow = Awaited<ReturnType<ReturnType<typeof patches>['executeTakeFirstOrThrow']>>;

const patchFromRow = (row: PatchRow): ZonePatch => ({
  id: row.id,
  zoneId: row.zone_id,
  afterRound: row.after_round,
  settings: readJson(settingsSchema, row.settings_json),
  machineId: row.machine_id,
  scrapeTest: zonePatchSchema.shape.scrapeTest.parse(row.scrape_test),
  heatTint: row.heat_tint === null ? null : row.heat_tint === 1,
  residue: readJson(measuredSchema, row.residue_json),
  how: zonePatchSchema.shape.how.parse(row.how),
  comparisonId: row.comparison_id,
  travelSpeedMmPerS: readJsonOrNull(measuredSchema, row.travel_speed_json),
  createdAt: row.created_at,
  createdBy: personRef(row.created_by, row.person_name),
});

export function testPatchesTable(db: Kysely<Database>): TestPatchStore {
  return {
    add: (patch) =>
      insertOnce(
        db.insertInto('test_patches').values({
          id: patch.id,
          zone_id: patch.zoneId,
          after_round: patch.afterRound,
          settings_json: JSON.stringify(patch.settings),
          machine_id: patch.machineId,
          scrape_test: patch.scrapeTest,
          heat_tint: patch.heatTint === null ? null : flag(patch.heatTint),
          residue_json: JSON.stringify(patch.residue),
          how: patch.how,
          comparison_id: patch.comparisonId,
          travel_speed_json: writeJsonOrNull(patch.travelSpeedMmPerS),
          created_at: patch.createdAt,
          created_by: patch.createdBy,
        }),
      ),
    async find(id) {
      const row = await patches(db).where('test_patches.id', '=', id).executeTakeFirst();
      return row === undefined ? null : patchFromRow(row);
    },
    async ofZone(zoneId) {
      const rows = await patches(db)
        .where('zone_id', '=', zoneId)
        .orderBy('test_patches.created_at')
        .orderBy('test_patches.id')
        .execute();
      return rows.map(patchFromRow);
    },
    async remove(id) {
      const result = await db.deleteFrom('test_patches').where('id', '=', id).executeTakeFirst();
      return result.numDeletedRows > 0n;
    },
  };
}
