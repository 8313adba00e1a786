import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { settingsSchema } from '../../server/domain/index.ts';
import type { ZonePatch } from '../../server/domain/api/test-patches.ts';
import { LINE_MACHINE } from '../support/line-machine.ts';
import { openBench } from '../support/server-bench.ts';
import type { Bench, Client } from '../support/server-bench.ts';
import { addTeaselRound, followToEnd, smallPhoto, TEASEL_SETTINGS } from '../support/teasel-round.ts';

let bench: Bench;
let operator: Client;
let machineId = '';

/** A deeper stroke than the round's. */
const PATCH_SETTINGS = settingsSchema.parse({ ...TEASEL_SETTINGS, powerW: 2000, travelSpeedMmPerS: 10 });

beforeAll(async () => {
  bench = await openBench();
  operator = await bench.as('operator');
  const dialSteps = { powerW: 5, scanWidthMm: 5, scanFrequencyHz: 1, travelSpeedMmPerS: 0.5 };
  const added = await (
    await bench.as('trainer')
  ).callLoosely('addMachine', { body: { name: 'Line 2 kW', machine: LINE_MACHINE, dialSteps } });
  machineId = String(added.body['id']);
});
afterAll(() => bench.stop());

async function freshZone(name: string): Promise<string> {
  const job = await operator.call('addJob', { body: { name: 'Workboat Teasel' } });
  const zone = await operator.call('addZone', {
    params: { jobId: job.body.id },
    body: { name, targetGrade: 'sa 2.5', surfaceKind: 'heavy pitted rust', areaM2: 40, machineId },
  });
  return zone.body.id;
}

const byEye = (residueFraction: number) => ({
  settings: PATCH_SETTINGS,
  outcome: { how: 'by eye' as const, residueFraction },
});
const adviceOf = async (zoneId: string) => (await operator.call('readZoneAdvice', { params: { zoneId } })).body;
const enter = async (zoneId: string, body: object): Promise<ZonePatch> => {
  const added = await operator.callLoosely('addTestPatch', { params: { zoneId }, body });
  expect(added.status).toBe(201);
  return added.body as unknown as ZonePatch;
};

describe('a zone before its first round', () => {
  it('has advice from common practice, with a patch to try, and learns from its outcome', async () => {
    const zoneId = await freshZone('Anchor locker');
    const before = await adviceOf(zoneId);
    expect(before).toMatchObject({ afterRound: 0, machineId, whyNone: null, advice: { verdict: 'another round' } });
    expect(before.advice?.testPatch?.why).toContain('minutes');

    const patch = await enter(zoneId, byEye(0.6));
    expect(patch).toMatchObject({ afterRound: 0, machineId, how: 'by eye', comparisonId: null });
    expect([patch.residue.low, patch.residue.high]).toEqual([0.5, 0.7]);
    const hard = await adviceOf(zoneId);
    await operator.call('removeTestPatch', { params: { patchId: patch.id } });
    const gone = await enter(zoneId, byEye(0.01));
    const easy = await adviceOf(zoneId);
    const minutes = [easy, hard].map(({ advice }) => advice?.suggestions[0]?.minutesPerSquareMetre ?? NaN);
    expect(minutes[1]).toBeGreaterThan(minutes[0]);

    expect((await operator.call('removeTestPatch', { params: { patchId: gone.id } })).status).toBe(204);
    expect((await operator.call('listTestPatches', { params: { zoneId } })).body.items).toEqual([]);
    expect(await adviceOf(zoneId)).toEqual(before);
  });

  it('says why it has none without a machine', async () => {
    const job = await operator.call('addJob', { body: { name: 'Workboat Teasel' } });
    const zone = await operator.call('addZone', { params: { jobId: job.body.id }, body: { name: 'Bare zone' } });
    expect(await adviceOf(zone.body.id)).toMatchObject({ advice: null, machineId: null });
    expect((await adviceOf(zone.body.id)).whyNone).toContain('No machine');
  });
});

describe('a test patch', () => {
  it('is read from a photo of it alone, once however often it is sent, and no round of the zone', async () => {
    const zoneId = await freshZone('Rudder stock');
    const photo = await operator.call('addPhoto', { body: { uploadId: await operator.upload(await smallPhoto(9)) } });
    const outline = { polygonPx: [[10, 10] as [number, number], [200, 10], [200, 100]] as [number, number][] };
    const comparison = await operator.call('addComparison', {
      body: {
        title: 'Test patch',
        of: {
          kind: 'patches',
          photoId: photo.body.id,
          patches: [{ name: 'Patch', outline, settings: PATCH_SETTINGS }],
        },
      },
    });
    const comparisonId = comparison.body.id;
    await followToEnd(operator, `/api/comparisons/${comparisonId}/progress`);
    const body = {
      id: '018f6f2e-0000-4000-8000-0000000000d1',
      settings: PATCH_SETTINGS,
      scrapeTest: 'clean',
      heatTint: true,
      outcome: { how: 'photo', comparisonId },
    };
    const patch = await enter(zoneId, body);
    await enter(zoneId, body);
    // The bench measures 8 % everywhere.
    expect(patch).toMatchObject({
      how: 'photo',
      comparisonId,
      residue: { value: 0.08 },
      scrapeTest: 'clean',
      heatTint: true,
    });
    expect((await operator.call('listTestPatches', { params: { zoneId } })).body.items).toHaveLength(1);
    const zone = await operator.call('readZone', { params: { zoneId } });
    expect(zone.body).toMatchObject({ roundCount: 0, standing: 'not started', latest: null });
  });

  it('is handed to the analysis of the rounds that follow, with the state of the zone that it was tried on', async () => {
    const { zone, round } = await addTeaselRound(operator, 'Deck frames');
    const params = { roundId: round.id };
    await operator.call('changeRound', { params, body: { machineId, heatTint: true } });
    await operator.call('changeZone', { params: { zoneId: zone.id }, body: { machineId, areaM2: 2.5 } });
    await enter(zone.id, byEye(0.4));
    const assess = async (): Promise<void> => {
      const started = await operator.call('startAssessment', { params, body: {} });
      await followToEnd(operator, `/api/assessments/${started.body.id}/progress`);
    };
    await assess();
    expect(bench.analyst.asked.at(-1)).toMatchObject({
      areaM2: 2.5,
      heatTint: true,
      testPatches: [{ afterRounds: 0, after: { residueFraction: 0.4 } }],
    });
    const patch = await enter(zone.id, byEye(0.02));
    expect(patch.afterRound).toBe(1);
    await assess();
    const patches = bench.analyst.asked.at(-1)?.testPatches;
    expect(patches?.map(({ afterRounds }) => afterRounds)).toEqual([0, 1]);
    expect((await adviceOf(zone.id)).afterRound).toBe(1);
  });

  it('is refused where it cannot have happened', async () => {
    const { zone, round } = await addTeaselRound(operator, 'Bulwark');
    const params = { roundId: round.id };
    await operator.call('changeRound', { params, body: { machineId } });
    const started = await operator.call('startAssessment', { params, body: {} });
    await followToEnd(operator, `/api/assessments/${started.body.id}/progress`);
    const send = (body: object) => operator.callLoosely('addTestPatch', { params: { zoneId: zone.id }, body });
    // 8 % was left by the round; a patch on it cannot leave 70 %.
    const grown = await send(byEye(0.7));
    expect(grown).toMatchObject({ status: 422, body: { code: 'patch-contradictory' } });
    expect(grown.body.detail).toContain('residue grew');
    const beyond = await send({ ...byEye(0.02), settings: { ...PATCH_SETTINGS, powerW: 9000 } });
    expect(beyond).toMatchObject({ status: 422, body: { code: 'settings-malformed' } });
    const backwards = { ...PATCH_SETTINGS, passes: -2 };
    expect((await send({ ...byEye(0.02), settings: backwards })).status).toBe(400);
    expect((await send(byEye(1.4))).status).toBe(400);
    const nowhere = '018f6f2e-0000-4000-8000-00000000dead';
    expect((await send({ settings: PATCH_SETTINGS, outcome: { how: 'photo', comparisonId: nowhere } })).status).toBe(
      404,
    );
    expect((await operator.call('listTestPatches', { params: { zoneId: zone.id } })).body.items).toEqual([]);
  });
});
