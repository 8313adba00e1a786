import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { trialPatchOutline } from '../../server/domain/index.ts';
import { LINE_MACHINE } from '../support/line-machine.ts';
import { openBench } from '../support/server-bench.ts';
import type { Bench, Client } from '../support/server-bench.ts';
import { addTeaselRound, followToEnd, smallPhoto, TEASEL_SETTINGS } from '../support/teasel-round.ts';

let bench: Bench;
let operator: Client;
let trainer: Client;
let machineId = '';

beforeAll(async () => {
  bench = await openBench();
  [operator, trainer] = [await bench.as('operator'), await bench.as('trainer')];
  const dialSteps = { powerW: 5, scanWidthMm: 5, scanFrequencyHz: 1, travelSpeedMmPerS: 0.5 };
  const added = await trainer.callLoosely('addMachine', {
    body: { name: 'Line 2 kW', machine: LINE_MACHINE, dialSteps },
  });
  machineId = String(added.body['id']);
});
afterAll(() => bench.stop());

const coupon = (name: string) => ({
  name,
  machineId,
  surface: 'light rust',
  couponWidthMm: 300,
  couponHeightMm: 200,
  patches: 8,
});

describe('a trial', () => {
  it('is planned, printed, read from a comparison of its patches, and removed', async () => {
    const added = await operator.callLoosely('addTrial', { body: coupon('Stern plate') });
    expect(added.status).toBe(201);
    const trialId = String(added.body['id']);
    const { plan } = (await operator.call('readTrial', { params: { trialId } })).body;
    expect(plan.patches).toHaveLength(8);
    const sheet = await operator.fetch(`/api/trials/${trialId}/sheet.pdf?paper=letter`);
    expect(sheet.headers.get('content-type')).toContain('application/pdf');

    const photo = await operator.call('addPhoto', { body: { uploadId: await operator.upload(await smallPhoto(7)) } });
    const patches = plan.patches.map((patch) => ({
      name: patch.name,
      outline: { polygonMm: trialPatchOutline(patch, plan.couponAtMm) },
    }));
    const compared = await operator.call('addComparison', {
      body: { title: plan.name, of: { kind: 'patches', photoId: photo.body.id, patches } },
    });
    await followToEnd(operator, `/api/comparisons/${compared.body.id}/progress`);
    const comparisonId = compared.body.id;
    const fitted = await operator.call('fitTrial', { params: { trialId }, body: { comparisonId } });
    // The bench measures 8 % everywhere.
    expect(fitted.body.comparisonId).toBe(comparisonId);
    expect(fitted.body.result?.patches.map(({ residue }) => residue.value)).toEqual(plan.patches.map(() => 0.08));
    const listed = await operator.call('listTrials', { query: { q: 'stern' } });
    expect(listed.body.items).toMatchObject([{ id: trialId, isRead: true }]);

    const administrator = await bench.as('administrator');
    expect((await administrator.callLoosely('removeMachine', { params: { machineId } })).status).toBe(409);
    expect((await operator.callLoosely('removeTrial', { params: { trialId } })).status).toBe(403);
    expect((await trainer.call('removeTrial', { params: { trialId } })).status).toBe(204);
    expect((await operator.callLoosely('readTrial', { params: { trialId } })).status).toBe(404);
  });

  it('is made once however often it is sent, and refused where its patches do not fit', async () => {
    const id = '018f6f2e-0000-4000-8000-0000000000c1';
    for (let sent = 0; sent < 2; sent++) {
      expect((await operator.callLoosely('addTrial', { body: { id, ...coupon('Rudder stock') } })).status).toBe(201);
    }
    expect((await operator.call('listTrials', { query: { q: 'rudder' } })).body.items).toHaveLength(1);
    const tiny = { ...coupon('Tiny'), couponWidthMm: 50, couponHeightMm: 40 };
    const refused = await operator.callLoosely('addTrial', { body: tiny });
    expect(refused).toMatchObject({ status: 422, body: { code: 'trial-does-not-fit' } });
  });
});

describe('dose pictures and quotes', () => {
  it('draws the dose of settings', async () => {
    const drawn = await operator.callLoosely('drawDose', {
      body: { settings: TEASEL_SETTINGS, machine: LINE_MACHINE },
    });
    expect(drawn).toMatchObject({ status: 200, body: { linePitchMm: 2.5, widthMm: 150 } });
  });

  it('quotes an area', async () => {
    const body = { areaM2: 12, machine: LINE_MACHINE, target: { residueFractionMax: 0.05 }, hourlyRate: 85 };
    const quoted = await operator.callLoosely('makeQuote', { body });
    expect(quoted.status).toBe(200);
    expect((await operator.callLoosely('makeQuote', { body: { ...body, areaM2: -1 } })).status).toBe(400);
  });
});

describe('what the shop has learned', () => {
  it('grows with measured rounds of a machine, and starts again when a trainer says so', async () => {
    expect((await operator.call('listLearned')).body.items).toEqual([]);
    const { round } = await addTeaselRound(operator);
    const params = { roundId: round.id };
    await operator.call('changeRound', { params, body: { machineId } });
    const started = await operator.call('startAssessment', { params, body: {} });
    await followToEnd(operator, `/api/assessments/${started.body.id}/progress`);

    const kind = 'heavy pitted rust' as const;
    const [learned] = (await operator.call('listLearned')).body.items;
    expect(learned).toMatchObject({ machineId, kind, zones: 1, rounds: 1, forgottenAt: null });
    // One round that took most of it off: the threshold is believed lower than usual, and known more closely.
    expect(learned.thresholdJPerCm2).toBeLessThan(learned.usualThresholdJPerCm2);
    expect((await operator.callLoosely('forgetLearned', { body: { machineId, kind } })).status).toBe(403);
    const forgotten = await trainer.call('forgetLearned', { body: { machineId, kind } });
    expect(forgotten.body.items).toMatchObject([{ zones: 0, rounds: 0 }]);
    expect(forgotten.body.items[0].thresholdJPerCm2).toBeCloseTo(learned.usualThresholdJPerCm2, 9);
  });
});
