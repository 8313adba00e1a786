import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { listCorrectedPhotos } from '../../server/adapters/database/corrected-photos.ts';
import { failure } from '../../server/domain/index.ts';
import { openBench } from '../support/server-bench.ts';
import type { Bench, Client } from '../support/server-bench.ts';
import { addTeaselRound, followToEnd, smallPhoto, TEASEL_SETTINGS } from '../support/teasel-round.ts';

let bench: Bench;
let operator: Client;
let inspector: Client;
let trainer: Client;
let administrator: Client;

beforeAll(async () => {
  bench = await openBench();
  [operator, inspector, trainer, administrator] = [
    await bench.as('operator'),
    await bench.as('inspector'),
    await bench.as('trainer'),
    await bench.as('administrator'),
  ];
});
afterAll(() => bench.stop());

const assess = async (roundId: string): Promise<string> => {
  const started = await operator.call('startAssessment', { params: { roundId }, body: {} });
  expect(started.status).toBe(202);
  const assessmentId = started.body.id;
  await followToEnd(operator, `/api/assessments/${assessmentId}/progress`);
  return assessmentId;
};

describe('from a job to an answer', () => {
  it('takes photos, assesses the round, tells the stages and moves the zone on', async () => {
    const { jobId, zone, round } = await addTeaselRound(operator);
    expect(zone).toMatchObject({ standing: 'not started', targetGrade: 'Sa 2 1/2' });
    expect(round).toMatchObject({
      number: 1,
      before: { photo: { widthPx: 640 } },
      after: { photo: { heightPx: 480 } },
    });

    const started = await operator.call('startAssessment', { params: { roundId: round.id }, body: {} });
    const events = await followToEnd(operator, `/api/assessments/${started.body.id}/progress`);
    expect(events.at(-1)).toMatchObject({ state: 'done' });

    const read = await operator.call('readAssessment', { params: { assessmentId: started.body.id } });
    expect(read.body).toMatchObject({
      state: 'done',
      verdict: 'another round',
      decision: 'does not meet',
      residue: { value: 0.08 },
      minutesPerSquareMetre: 1e6 / (150 * 50) / 60,
      basis: { settings: TEASEL_SETTINGS, surfaceKind: 'heavy pitted rust' },
      classMaps: {
        after: { widthPx: 8, heightPx: 4, planeFromMap: [1, 0, 0, 0, 1, 0, 0, 0, 1] },
        before: null,
      },
    });
    const standing = await operator.call('readZone', { params: { zoneId: zone.id } });
    expect(standing.body).toMatchObject({ standing: 'another round', roundCount: 1, latest: { id: started.body.id } });
    const job = await operator.call('readJob', { params: { jobId } });
    expect(job.body).toMatchObject({ zoneCount: 1, zonesMeetingTarget: 0 });
    const overlay = await operator.call('readOverlay', { params: { assessmentId: started.body.id } });
    expect(overlay.headers.get('content-type')).toBe('image/png');
  });

  it('keeps the sentence of a fault when a photo cannot be assessed', async () => {
    const { round } = await addTeaselRound(operator);
    bench.analyst.script.push(() => Promise.resolve(failure({ code: 'card-several', count: 2 })));
    const read = await operator.call('readAssessment', { params: { assessmentId: await assess(round.id) } });
    expect(read.body).toMatchObject({ state: 'failed', result: null, fault: { code: 'card-several' } });
    expect(read.body.fault?.sentence).toContain('2 reference cards');
  });

  it('refuses to assess a round without an after photo', async () => {
    const { round } = await addTeaselRound(operator);
    await operator.call('detachPhoto', { params: { roundId: round.id, role: 'after' } });
    const started = await operator.callLoosely('startAssessment', { params: { roundId: round.id }, body: {} });
    expect(started).toMatchObject({ status: 409, body: { code: 'state-conflict' } });
  });

  it('makes a thing once that is sent twice', async () => {
    const id = '018f6f2e-0000-7000-8000-000000000001';
    const first = await operator.call('addJob', { body: { id, name: 'Anchor locker' } });
    const second = await operator.call('addJob', { body: { id, name: 'Anchor locker' } });
    expect(second.body).toEqual(first.body);
    const list = await operator.call('listJobs', { query: { q: 'anchor' } });
    expect(list.body.items).toHaveLength(1);
  });

  it('uses the after photo of one round as the before photo of the next', async () => {
    const { zone, round } = await addTeaselRound(operator);
    const next = await operator.call('addRound', { params: { zoneId: zone.id }, body: {} });
    const photoId = round.after?.photo.id ?? '';
    const attached = await operator.call('attachPhoto', {
      params: { roundId: next.body.id, role: 'before' },
      body: {
        source: { photoId },
        outline: {
          polygonPx: [
            [10, 10],
            [200, 10],
            [200, 100],
          ],
        },
      },
    });
    expect(attached.body).toMatchObject({
      number: 2,
      before: {
        photo: { id: photoId },
        outline: {
          polygonPx: [
            [10, 10],
            [200, 10],
            [200, 100],
          ],
        },
      },
    });
    const moved = await operator.call('moveOutline', {
      params: { roundId: next.body.id, role: 'before' },
      body: { outline: null },
    });
    expect(moved.body.before?.outline).toBeNull();
  });

  it('finds a zone by its printed label, whatever the case of the letters', async () => {
    const { zone } = await addTeaselRound(operator);
    const found = await operator.call('findZoneByLabel', { params: { labelCode: zone.labelCode.toLowerCase() } });
    expect(found.body.id).toBe(zone.id);
    const label = await operator.fetch(`/api/zones/${zone.id}/label.svg`);
    expect(await label.text()).toContain(zone.labelCode.slice(0, 4));
  });

  it('says which grade it does not know, and which it does', async () => {
    const { zone } = await addTeaselRound(operator);
    const changed = await operator.callLoosely('changeZone', {
      params: { zoneId: zone.id },
      body: { targetGrade: 'Sa 4' },
    });
    expect(changed).toMatchObject({ status: 422, body: { code: 'target-unknown' } });
    expect(changed.body.detail).toContain('Sa 2 1/2');
  });

  it('removes a job with everything in it', async () => {
    const { jobId, zone, round } = await addTeaselRound(operator);
    const assessmentId = await assess(round.id);
    expect((await administrator.call('removeJob', { params: { jobId } })).status).toBe(204);
    for (const answer of [
      await operator.callLoosely('readZone', { params: { zoneId: zone.id } }),
      await operator.callLoosely('readRound', { params: { roundId: round.id } }),
      await operator.callLoosely('readAssessment', { params: { assessmentId } }),
    ]) {
      expect(answer).toMatchObject({ status: 404, body: { code: 'not-found' } });
    }
  });
});

describe('lists', () => {
  it('pages through all items once, in order, while others are added', async () => {
    const job = await operator.call('addJob', { body: { name: 'Deck frames' } });
    const names = Array.from({ length: 7 }, (_, i) => `Frame ${String(i + 1).padStart(2, '0')}`);
    for (const name of names) await operator.call('addZone', { params: { jobId: job.body.id }, body: { name } });
    const seen: string[] = [];
    let cursor: string | undefined;
    do {
      const page = await operator.call('listZones', {
        query: { jobId: job.body.id, sort: 'name', limit: 3, cursor } as never,
      });
      seen.push(...page.body.items.map((zone) => zone.name));
      cursor = page.body.nextCursor ?? undefined;
      await operator.call('addZone', { params: { jobId: job.body.id }, body: { name: 'Frame 00' } });
    } while (cursor !== undefined);
    expect(seen).toEqual(names);
  });

  it('turns the order round and searches for all words, without accents', async () => {
    const job = await operator.call('addJob', { body: { name: 'Café boat', customer: 'Übersee' } });
    await operator.call('addZone', { params: { jobId: job.body.id }, body: { name: 'Rudder' } });
    await operator.call('addZone', { params: { jobId: job.body.id }, body: { name: 'Keel' } });
    const found = await operator.call('listZones', { query: { q: 'CAFE rud' } });
    expect(found.body.items.map((zone) => zone.name)).toEqual(['Rudder']);
    const jobs = await operator.call('listJobs', { query: { q: 'ubersee' } });
    expect(jobs.body.items.map((each) => each.id)).toEqual([job.body.id]);
    const backwards = await operator.call('listZones', { query: { jobId: job.body.id, sort: '-name' } });
    expect(backwards.body.items.map((zone) => zone.name)).toEqual(['Rudder', 'Keel']);
    const percent = await operator.call('listZones', { query: { q: '%' } });
    expect(percent.body.items).toEqual([]);
  });

  it('filters assessments by zone and state and sorts them by what is left', async () => {
    const { zone, round } = await addTeaselRound(operator, 'Bulwark');
    const { findings } = await import('../support/scripted-analyst.ts');
    const { success } = await import('../../server/domain/index.ts');
    for (const rust of [0.3, 0.1, 0.2]) {
      bench.analyst.script.push(async () => success(await findings(rust)));
      await assess(round.id);
    }
    const query = { zoneId: zone.id, state: 'done', sort: '-residue' } as const;
    const sorted = await operator.call('listAssessments', { query });
    expect(sorted.body.items.map((item) => item.residue?.value)).toEqual([0.3, 0.2, 0.1]);
    const searched = await operator.call('listAssessments', { query: { q: 'bulwark', limit: 2 } });
    expect(searched.body.items).toHaveLength(2);
    expect(searched.body.nextCursor).not.toBeNull();
  });

  it('refuses a query that it does not know', async () => {
    const answers = [
      await operator.callLoosely('listJobs', { query: { order: 'name' } }),
      await operator.callLoosely('listJobs', { query: { limit: '1000' } }),
      await operator.callLoosely('listJobs', { query: { sort: 'password_hash' } }),
      await operator.callLoosely('addJob', { body: { name: 'x', isInvented: true } }),
      await operator.callLoosely('addJob', { body: '{' }),
    ];
    for (const answer of answers) expect(answer).toMatchObject({ status: 400, body: { code: 'request-malformed' } });
  });
});

describe('what an assessment shows', () => {
  it('are its streaks as lines, and where two segmenters disagree', async () => {
    const { round } = await addTeaselRound(operator);
    const assessmentId = await assess(round.id);
    const { body } = await operator.call('readAssessment', { params: { assessmentId } });
    expect(body.streakLines).toEqual([
      [
        [0.5, 0],
        [0.5, 4],
      ],
    ]);
    expect(body.classMaps.after).toMatchObject({ widthPx: 8, heightPx: 4, hasDoubtful: true });
    const picture = await operator.fetch(`/api/assessments/${assessmentId}/doubtful-maps/after.png`);
    const { codes } = await bench.adapters.classMaps.read(new Uint8Array(await picture.arrayBuffer()));
    expect([...codes.subarray(0, 8)]).toEqual([0, 1, 0, 0, 0, 0, 0, 0]);
    const before = await operator.fetch(`/api/assessments/${assessmentId}/doubtful-maps/before.png`);
    expect(before.status).toBe(404);
  });
});

describe('the card in a photo', () => {
  it('is looked for once, however often a screen asks', async () => {
    const { round } = await addTeaselRound(operator);
    const photoId = round.after?.photo.id ?? '';
    const looks = bench.analyst.looks;
    const before = looks.length;
    for (let ask = 0; ask < 3; ask++) {
      const { body } = await operator.call('lookForCard', { params: { photoId } });
      expect(body).toMatchObject({
        cornersPx: [
          [10, 20],
          [60, 20],
          [60, 50],
          [10, 50],
        ],
        fault: null,
      });
    }
    expect(looks.length).toBe(before + 1);
  });
});

describe('corrections', () => {
  it('repaints the map, recomputes the shares at once, keeps who and when, and takes back', async () => {
    const { round } = await addTeaselRound(operator);
    const assessmentId = await assess(round.id);
    const marks = [{ kind: 'fill' as const, paint: 'bare' as const, at: [0.5, 0.5] as [number, number] }];
    const trial = await inspector.call('tryCorrection', { params: { assessmentId }, body: { map: 'after', marks } });
    // 16 of 28 pixels inside the zone were rust; all are bare now.
    expect(trial.body).toMatchObject({ residue: 0, fractions: { bare: 1 }, changedFraction: 16 / 28 });
    const none = await inspector.call('listCorrections', { params: { assessmentId } });
    expect(none.body).toEqual({ items: [], corrected: { before: null, after: null } });

    const half = [
      {
        kind: 'polygon' as const,
        paint: 'stain' as const,
        points: [
          [0, 0],
          [2, 0],
          [2, 4],
          [0, 4],
        ] as [number, number][],
      },
    ];
    const added = await inspector.call('addCorrection', {
      params: { assessmentId },
      body: { marks: half, mayTrain: true, reason: 'shadow' },
    });
    expect(added.body.corrected.after).toMatchObject({ residue: 8 / 28, fractions: { stain: 8 / 28 } });
    expect(added.body.items[0]).toMatchObject({ reason: 'shadow', madeBy: { id: inspector.personId } });
    const read = await operator.call('readAssessment', { params: { assessmentId } });
    expect(read.body).toMatchObject({
      isCorrected: true,
      correctedResidue: 8 / 28,
      residue: { value: 0.08 },
      corrected: { after: { residue: 8 / 28 } },
    });

    const corrected = await operator.fetch(`/api/assessments/${assessmentId}/class-maps/after.png`);
    const measured = await operator.fetch(`/api/assessments/${assessmentId}/class-maps/after.png?corrected=no`);
    const codes = async (response: Response): Promise<number[]> => {
      const { codes: read } = await bench.adapters.classMaps.read(new Uint8Array(await response.arrayBuffer()));
      return [...read.subarray(0, 8)];
    };
    expect(await codes(corrected)).toEqual([2, 2, 3, 3, 1, 1, 1, 255]);
    expect(await codes(measured)).toEqual([3, 3, 3, 3, 1, 1, 1, 255]);

    const taught = listCorrectedPhotos(join(bench.folder, 'ledger.db'));
    expect(taught).toMatchObject([
      { assessmentId, role: 'after', photoPxPerPixel: 80, corrections: [{ mayTrain: true, marks: half }] },
    ]);

    const correctionId = added.body.items[0].id;
    const withdrawn = await inspector.call('withdrawCorrection', { params: { assessmentId, correctionId } });
    expect(withdrawn.body.corrected.after).toBeNull();
    expect(listCorrectedPhotos(join(bench.folder, 'ledger.db'))).toEqual([]);
    expect(withdrawn.body.items[0]).toMatchObject({ withdrawnBy: { id: inspector.personId } });
    const again = await inspector.callLoosely('withdrawCorrection', { params: { assessmentId, correctionId } });
    expect(again).toMatchObject({ status: 409 });
  });

  it('move the zone to where the corrected map puts it, and back when they are taken back', async () => {
    const { zone, round } = await addTeaselRound(operator);
    const assessmentId = await assess(round.id);
    const standing = async (): Promise<unknown> => {
      const { body } = await operator.call('readZone', { params: { zoneId: zone.id } });
      return [body.standing, body.latest?.correctedDecision];
    };
    const measured = await standing();
    expect(measured).toEqual([expect.not.stringMatching('meets target'), null]);
    const marks = [{ kind: 'fill' as const, paint: 'bare' as const, at: [0.5, 0.5] as [number, number] }];
    const body = { marks, mayTrain: false, reason: 'bright steel' };
    const added = await inspector.call('addCorrection', { params: { assessmentId }, body });
    expect(await standing()).toEqual(['meets target', 'meets']);
    const correctionId = added.body.items[0].id;
    await inspector.call('withdrawCorrection', { params: { assessmentId, correctionId } });
    expect(await standing()).toEqual(measured);
  });
});

describe('the shop', () => {
  it('keeps machines, and does not remove one that a round names', async () => {
    const limits = { min: 1, max: 2000 };
    const machine = {
      powerW: limits,
      scanWidthMm: limits,
      scanFrequencyHz: limits,
      travelSpeedMmPerS: limits,
      strokesPerCycle: 2,
      spotDiameterMm: 2,
      maxPasses: 10,
    };
    const dialSteps = { powerW: 50, scanWidthMm: 5, scanFrequencyHz: 1, travelSpeedMmPerS: 1 };
    const added = await trainer.callLoosely('addMachine', { body: { name: 'Line 2 kW', machine, dialSteps } });
    expect(added.status).toBe(201);
    const machineId = String(added.body['id']);
    const { zone } = await addTeaselRound(operator);
    await operator.call('addRound', { params: { zoneId: zone.id }, body: { machineId } });
    const { round } = await addTeaselRound(operator);
    const tooMuch = { ...TEASEL_SETTINGS, passes: 11 };
    await operator.callLoosely('changeRound', {
      params: { roundId: round.id },
      body: { machineId, settings: tooMuch },
    });
    const refused = await operator.callLoosely('startAssessment', { params: { roundId: round.id }, body: {} });
    expect(refused).toMatchObject({ status: 422, body: { code: 'settings-malformed' } });
    expect(refused.body.detail).toContain('"Line 2 kW" does 10 at most');
    const kept = await administrator.callLoosely('removeMachine', { params: { machineId } });
    expect(kept).toMatchObject({ status: 409, body: { code: 'state-conflict' } });
    const away = await trainer.call('changeMachine', { params: { machineId }, body: { isPutAway: true } });
    expect(away.body).toMatchObject({ isPutAway: true, name: 'Line 2 kW' });
    expect((await operator.call('listMachines')).body.items).toEqual([]);
    expect((await operator.call('listMachines', { query: { putAway: 'yes' } })).body.items).toHaveLength(1);
  });

  it('registers cards and refuses values that are not of this card', async () => {
    const card = await inspector.call('addCard', { body: { name: 'Card 7' } });
    const cardId = card.body.id;
    const refused = await inspector.callLoosely('registerCardValues', {
      params: { cardId },
      body: { text: 'hello', measuredOn: '2026-05-01' },
    });
    expect(refused).toMatchObject({ status: 422, body: { code: 'card-values-malformed' } });
    const health = await operator.call('readCardHealth', { params: { cardId } });
    expect(health.body).toEqual({ items: [], nextCursor: null });
    const sheet = await operator.fetch('/api/card.pdf?paper=a4');
    expect(
      Buffer.from(await sheet.arrayBuffer())
        .subarray(0, 5)
        .toString(),
    ).toBe('%PDF-');
  });

  it('shows how well a card did in the photos that it was in', async () => {
    const card = await inspector.call('addCard', { body: { name: 'Card 8' } });
    await administrator.call('changeShop', { body: { usualCardId: card.body.id } });
    const { round, zone } = await addTeaselRound(operator);
    const assessmentId = await assess(round.id);
    const health = await operator.call('readCardHealth', { params: { cardId: card.body.id } });
    expect(health.body.items).toMatchObject([
      { assessmentId, zoneName: zone.name, colourErrorDeltaE00: { median: 1.1, p95: 2.4, max: 3.2 } },
    ]);
  });

  it('sets assessments side by side and says where a difference is real', async () => {
    const { round } = await addTeaselRound(operator, 'Transom');
    const { findings } = await import('../support/scripted-analyst.ts');
    const { success } = await import('../../server/domain/index.ts');
    const ids: string[] = [];
    for (const rust of [0.4, 0.05]) {
      bench.analyst.script.push(async () => success(await findings(rust)));
      ids.push(await assess(round.id));
    }
    const compared = await trainer.call('addComparison', {
      body: { title: 'Frequency trial', of: { kind: 'assessments', assessmentIds: ids } },
    });
    expect(compared.body).toMatchObject({
      progress: { state: 'done' },
      sides: [{ assessmentId: ids[0] }, { assessmentId: ids[1] }],
    });
    expect(compared.body.pairs).toMatchObject([{ residue: 'b cleaner', texture: 'no real difference' }]);
    const list = await operator.call('listComparisons');
    expect(list.body.items.map((item) => item.title)).toContain('Frequency trial');
    expect((await operator.call('removeComparison', { params: { comparisonId: compared.body.id } })).status).toBe(204);
  });

  it('measures patches of one photo', async () => {
    const added = await operator.call('addPhoto', { body: { uploadId: await operator.upload(await smallPhoto(40)) } });
    const outline = {
      polygonPx: [
        [0, 0],
        [50, 0],
        [50, 50],
      ] as [number, number][],
    };
    const compared = await operator.call('addComparison', {
      body: {
        title: 'Coupon',
        of: {
          kind: 'patches',
          photoId: added.body.id,
          patches: [
            { name: 'A', outline, settings: TEASEL_SETTINGS },
            { name: 'B', outline },
          ],
        },
      },
    });
    const events = await followToEnd(operator, `/api/comparisons/${compared.body.id}/progress`);
    expect(events.at(-1)).toMatchObject({ state: 'done' });
    const read = await operator.call('readComparison', { params: { comparisonId: compared.body.id } });
    expect(read.body.sides.map((side) => side.surface?.residue.value)).toEqual([0.08, 0.08]);
  });

  it('keeps lessons', async () => {
    const added = await trainer.call('addLesson', { body: { title: 'Why lines show', settings: TEASEL_SETTINGS } });
    const lessonId = added.body.id;
    const changed = await trainer.call('changeLesson', { params: { lessonId }, body: { note: 'Slow the hand.' } });
    expect(changed.body).toMatchObject({
      title: 'Why lines show',
      note: 'Slow the hand.',
      createdBy: { id: trainer.personId },
    });
    expect((await trainer.call('removeLesson', { params: { lessonId } })).status).toBe(204);
  });

  it('keeps the settings of the shop and counts its work', async () => {
    const changed = await administrator.call('changeShop', { body: { units: 'inches', usualTargetGrade: 'SP 10' } });
    expect(changed.body).toMatchObject({
      units: 'inches',
      usualTargetGrade: 'SSPC-SP 10 / NACE No. 2',
      currency: 'EUR',
    });
    const overview = await operator.call('readOverview');
    expect(overview.body.jobs).toBeGreaterThan(3);
    expect(overview.body).toMatchObject({ running: 0, waiting: 0, hasInventedJob: false });
    const addresses = await administrator.call('listAddresses');
    expect(addresses.body.items[0]).toMatchObject({ url: bench.url });
    expect(addresses.body.items[0].qrSvg).toContain('<svg');
  });
});
