import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { goldenTimeStamp } from '../../fixtures/golden-records.ts';
import { zipArchive } from '../../server/adapters/archive/zip-archive.ts';
import { forgetJobs } from '../../server/services/forget-jobs.ts';
import { verifyBundle } from '../../server/services/verify-bundle.ts';
import { verifyTools } from '../support/evidence-tools.ts';
import { openBench } from '../support/server-bench.ts';
import type { Bench, Client } from '../support/server-bench.ts';
import { readPdf } from '../support/pdf-file.ts';
import { addTeaselRound, followToEnd } from '../support/teasel-round.ts';
import { draftOf, signedRecordOf, signerOf, SIGNING_PASSWORD } from '../support/teasel-record.ts';

let bench: Bench;
let operator: Client;
let inspector: Client;
let administrator: Client;
beforeAll(async () => {
  bench = await openBench();
  [operator, inspector, administrator] = [
    await bench.as('operator'),
    await signerOf(bench),
    await bench.as('administrator'),
  ];
});
afterAll(() => bench.stop());

const CLIMATE = { airTemperatureC: 20, surfaceTemperatureC: 13, relativeHumidity: 0.5, uncertainty: null };

const bytesOf = async (client: Client, path: string): Promise<Buffer> => {
  const response = await client.fetch(path);
  expect(response.status).toBe(200);
  return Buffer.from(await response.arrayBuffer());
};

describe('a record', () => {
  it('goes from draft over ready to accepted, and its bundle holds', async () => {
    const draft = await draftOf(operator);
    const params = { recordId: draft.id };
    const [{ id: roundId }] = (await operator.call('listRounds', { params: { zoneId: draft.zoneId } })).body.items;
    await operator.call('changeRound', { params: { roundId }, body: { note: 'Hose left lying.', heatTint: true } });
    expect(draft).toMatchObject({
      state: 'draft',
      obstacles: [],
      content: {
        asked: { standard: 'ISO 8501-1', grade: 'Sa 2 1/2' },
        rounds: [{ number: 1 }],
        cardValues: 'design values',
      },
    });
    const entered = await operator.call('enterReadings', {
      params,
      body: { climate: CLIMATE, remarks: [{ text: 'Wind from the quay.' }] },
    });
    // Dew point at 20 C and 50 %: 9.3 C by the Magnus formula, so 13 C of steel are 3.7 C above it.
    expect(entered.body.computed.dewPoint).toMatchObject({ decision: 'meets' });
    expect(entered.body.computed.dewPoint?.marginC).toBeCloseTo(3.7, 1);
    expect(entered.body.readings.climate).toMatchObject({ by: { id: operator.personId, role: 'operator' } });
    const ready = await operator.call('markRecordReady', { params });
    expect(ready.body).toMatchObject({
      state: 'ready',
      prepared: { by: { id: operator.personId } },
      content: { rounds: [{ note: 'Hose left lying. Straw to blue colours seen by a person.' }] },
    });
    const body = { verdict: 'accepted' as const, password: SIGNING_PASSWORD };
    const signed = await inspector.call('signRecord', { params, body });
    expect(signed).toMatchObject({
      status: 200,
      body: { state: 'accepted', decision: { signer: { role: 'inspector' }, confirmedBy: 'password entered again' } },
    });
    const bundle = await bytesOf(inspector, `/api/records/${draft.id}/bundle.zip`);
    const key = await inspector.call('readSealKey');
    const { fingerprint: knownFingerprint } = key.body;
    const finding = verifyBundle({ bundle, knownFingerprint, timeStampRoots: '' }, verifyTools());
    expect(finding).toMatchObject({
      holds: true,
      problems: [],
      record: { verdict: 'accepted', signerName: 'Test inspector' },
    });
    const report = await bytesOf(inspector, `/api/records/${draft.id}/report.pdf?paper=letter&units=inch`);
    expect(report.subarray(0, 5).toString()).toBe('%PDF-');
    const picture = await operator.fetch(`/api/records/${draft.id}/rounds/1/after.jpg`);
    expect(picture.headers.get('content-type')).toBe('image/jpeg');
  });

  it('holds the class map as corrected beside the measured one, and grades decided anew on both', async () => {
    const draft = await draftOf(operator);
    const { items } = (await operator.call('listAssessments', { query: { zoneId: draft.zoneId } })).body;
    const params = { assessmentId: items[0].id };
    const marks = [{ kind: 'fill' as const, paint: 'bare' as const, at: [0.5, 0.5] as [number, number] }];
    const added = await inspector.call('addCorrection', { params, body: { marks, reason: 'shadow' } });
    expect(added.body.corrected.after?.decided?.grades.length).toBeGreaterThan(5);
    const shown = await operator.call('readRecord', { params: { recordId: draft.id } });
    expect(shown.body.content).toMatchObject({
      correctionCount: 1,
      correctedGrade: { because: expect.any(String) as string },
    });
    await operator.call('markRecordReady', { params: { recordId: draft.id } });
    const body = { verdict: 'accepted' as const, password: SIGNING_PASSWORD };
    await inspector.call('signRecord', { params: { recordId: draft.id }, body });
    const bundle = await bytesOf(inspector, `/api/records/${draft.id}/bundle.zip`);
    const finding = verifyBundle({ bundle, knownFingerprint: null, timeStampRoots: '' }, verifyTools());
    expect(finding.problems).toEqual([]);
    const [{ entries }] = zipArchive().read(bundle);
    const codesOf = async (path: string): Promise<number[]> => {
      const entry = entries.find((each) => each.path === path);
      if (entry === undefined) throw new Error(`Expected ${path} in the bundle`);
      return [...(await bench.adapters.classMaps.read(entry.bytes)).codes.subarray(0, 8)];
    };
    expect(await codesOf('class-maps/round-1-after.png')).toEqual([3, 3, 3, 3, 1, 1, 1, 255]);
    expect(await codesOf('class-maps/round-1-after-corrected.png')).toEqual([1, 1, 1, 1, 1, 1, 1, 255]);
  });

  it('names the machine with the serial number of its plate', async () => {
    const limits = { min: 1, max: 2000 };
    const machine = {
      ...{ powerW: limits, scanWidthMm: limits, scanFrequencyHz: limits, travelSpeedMmPerS: limits },
      ...{ strokesPerCycle: 2 as const, spotDiameterMm: 2, maxPasses: 9 },
    };
    const dialSteps = { powerW: 50, scanWidthMm: 5, scanFrequencyHz: 5, travelSpeedMmPerS: 1 };
    const body = { name: 'Line laser', serialNumber: 'CW-0007', machine, dialSteps };
    const added = await administrator.call('addMachine', { body });
    expect(added.body.serialNumber).toBe('CW-0007');
    const { zone, round } = await addTeaselRound(operator, 'Deck frame');
    await operator.call('changeRound', { params: { roundId: round.id }, body: { machineId: added.body.id } });
    const { id } = (await operator.call('startAssessment', { params: { roundId: round.id }, body: {} })).body;
    await followToEnd(operator, `/api/assessments/${id}/progress`);
    const record = await operator.call('startRecord', { params: { zoneId: zone.id }, body: {} });
    expect(record.body.content?.machineName).toBe('Line laser, no. CW-0007');
    const report = readPdf(await bytesOf(inspector, `/api/records/${record.body.id}/report.pdf`));
    expect(report.pageTexts().join(' ').replace(/\s+/g, ' ')).toContain('Line laser, serial number CW-0007');
  });

  it('is checked again where it is uploaded, and says what was changed', async () => {
    const { id } = await signedRecordOf(operator, inspector);
    const bundle = await bytesOf(inspector, `/api/records/${id}/bundle.zip`);
    const whole = await operator.call('checkBundle', { body: { uploadId: await operator.upload(bundle, 'b.zip') } });
    expect(whole.body).toMatchObject({ holds: true, key: { isKnown: true } });
    const at = bundle.indexOf('"verdict":"accepted"');
    bundle.writeUInt8(bundle.readUInt8(at + 12) ^ 1, at + 12);
    const altered = await operator.call('checkBundle', { body: { uploadId: await operator.upload(bundle, 'b.zip') } });
    expect(altered.body.holds).toBe(false);
    expect(altered.body.problems.map(({ path }) => path)).toContain('record.json');
  });

  it('may come as a larger upload than a photo, and is no photo for that', async () => {
    const open = (name: string): Promise<Response> =>
      operator.fetch('/api/uploads', {
        method: 'POST',
        headers: {
          'tus-resumable': '1.0.0',
          'upload-length': String(65 * 1024 * 1024),
          'upload-metadata': `filename ${Buffer.from(name).toString('base64')}`,
        },
      });
    expect([(await open('a.jpg')).status, (await open('a.zip')).status]).toEqual([413, 201]);
    const uploadId = await operator.upload(Buffer.alloc(65 * 1024 * 1024), 'a.zip');
    const added = await operator.callLoosely('addPhoto', { body: { uploadId } });
    expect(added).toMatchObject({ status: 413, body: { code: 'body-too-large' } });
  });

  it('takes a time stamp only over its own signature', async () => {
    const { id: recordId } = await signedRecordOf(operator, inspector);
    const request = await bytesOf(inspector, `/api/records/${recordId}/time-stamp-request.tsq`);
    // DER: a sequence.
    expect(request[0]).toBe(0x30);
    const replyBase64 = goldenTimeStamp().reply.toString('base64');
    const refused = await inspector.callLoosely('addTimeStamp', { params: { recordId }, body: { replyBase64 } });
    expect(refused).toMatchObject({ status: 422, body: { code: 'time-stamp-refused' } });
  });

  it('is not signed with a wrong password, nor before it is ready, nor rejected without a reason', async () => {
    const { id: recordId } = await draftOf(operator);
    const sign = async (sent: object): Promise<{ status: number; body: object }> =>
      inspector.callLoosely('signRecord', {
        params: { recordId },
        body: { verdict: 'accepted', password: SIGNING_PASSWORD, ...sent },
      });
    expect(await sign({})).toMatchObject({ status: 409, body: { code: 'record-act-not-allowed' } });
    await operator.call('markRecordReady', { params: { recordId } });
    expect(await sign({ password: 'not mine at all' })).toMatchObject({
      status: 422,
      body: { code: 'password-wrong' },
    });
    expect(await sign({ verdict: 'rejected', reason: '  ' })).toMatchObject({ status: 409 });
    expect(await sign({ verdict: 'rejected', reason: 'Lines are left' })).toMatchObject({
      status: 200,
      body: { state: 'rejected', decision: { reason: 'Lines are left' } },
    });
    const log = await administrator.call('listAuditLog', { query: { subject: `record:${recordId}` } });
    expect(log.body.items.map(({ act }) => act)).toEqual(['rejected', 'was refused', 'marked ready', 'created']);
    expect(JSON.stringify(log.body)).not.toContain('not mine at all');
  });

  it('needs two people where the shop says so', async () => {
    await administrator.call('changeShop', { body: { isTwoPersonRuleOn: true } });
    const { id: recordId } = await draftOf(inspector);
    await inspector.call('markRecordReady', { params: { recordId } });
    const body = { verdict: 'accepted' as const, password: SIGNING_PASSWORD };
    const alone = await inspector.callLoosely('signRecord', { params: { recordId }, body });
    expect(alone).toMatchObject({ status: 409 });
    expect(alone.body.detail).toContain('two-person rule');
    const second = await signerOf(bench);
    expect((await second.call('signRecord', { params: { recordId }, body })).body).toMatchObject({
      state: 'accepted',
      decision: { isTwoPersonRuleOn: true },
    });
    await administrator.call('changeShop', { body: { isTwoPersonRuleOn: false } });
  });

  it('is never edited once signed, only superseded by a later signed one', async () => {
    const first = await signedRecordOf(operator, inspector);
    const params = { recordId: first.id };
    for (const answer of [
      await operator.callLoosely('enterReadings', { params, body: { climate: CLIMATE } }),
      await operator.callLoosely('withdrawRecord', { params }),
      await inspector.callLoosely('removeDraftRecord', { params }),
      await inspector.callLoosely('signRecord', { params, body: { verdict: 'accepted', password: SIGNING_PASSWORD } }),
    ]) {
      expect(answer).toMatchObject({ status: 409, body: { code: 'record-act-not-allowed' } });
    }
    const again = await operator.callLoosely('startRecord', { params: { zoneId: first.zoneId }, body: {} });
    expect(again).toMatchObject({ status: 409, body: { code: 'state-conflict' } });
    const successor = await inspector.call('supersedeRecord', { params, body: {} });
    expect(successor.body).toMatchObject({ state: 'draft', supersedesId: first.id });
    expect((await inspector.call('readRecord', { params })).body).toMatchObject({ state: 'accepted' });
    const next = { recordId: successor.body.id };
    await operator.call('markRecordReady', { params: next });
    await inspector.call('signRecord', { params: next, body: { verdict: 'accepted', password: SIGNING_PASSWORD } });
    expect((await inspector.call('readRecord', { params })).body).toMatchObject({
      state: 'superseded',
      supersededById: successor.body.id,
      seal: first.seal,
    });
    const listed = await operator.call('listRecords', { query: { zoneId: first.zoneId } });
    const found = await operator.call('listRecords', { query: { q: 'STERN', sort: 'zoneName' } });
    expect(found.body.items.map(({ id }) => id)).toEqual(expect.arrayContaining(listed.body.items.map(({ id }) => id)));
    expect((await operator.call('listRecords', { query: { q: 'bulwark' } })).body.items).toEqual([]);
    expect(listed.body.items.map(({ state }) => state)).toEqual(['accepted', 'superseded']);
  });

  it('stands as it was fixed when it was marked ready, and goes back to draft when it is withdrawn', async () => {
    const draft = await draftOf(operator);
    const params = { recordId: draft.id };
    await operator.call('markRecordReady', { params });
    await operator.call('changeZone', { params: { zoneId: draft.zoneId }, body: { targetGrade: 'Sa 3' } });
    expect((await operator.call('readRecord', { params })).body.content?.asked.grade).toBe('Sa 2 1/2');
    const back = await operator.call('withdrawRecord', { params });
    expect(back.body).toMatchObject({ state: 'draft', prepared: null, content: { asked: { grade: 'Sa 3' } } });
    expect((await inspector.call('removeDraftRecord', { params })).status).toBe(204);
    expect((await operator.callLoosely('readRecord', { params })).status).toBe(404);
  });

  it('keeps its zone and job from being removed, and its files from being swept', async () => {
    const { zoneId, jobId, id } = await signedRecordOf(operator, inspector);
    for (const answer of [
      await administrator.callLoosely('removeZone', { params: { zoneId } }),
      await administrator.callLoosely('removeJob', { params: { jobId } }),
    ]) {
      expect(answer).toMatchObject({ status: 409, body: { code: 'state-conflict' } });
    }
    const rounds = await operator.call('listRounds', { params: { zoneId } });
    await administrator.call('removeRound', { params: { roundId: rounds.body.items[0].id } });
    await bench.adapters.ledger.photos.removeUnused('9999-01-01T00:00:00.000Z');
    await bench.adapters.objects.sweep(await bench.adapters.ledger.namedObjects(), Number.POSITIVE_INFINITY);
    const bundle = await bytesOf(inspector, `/api/records/${id}/bundle.zip`);
    expect(verifyBundle({ bundle, knownFingerprint: null, timeStampRoots: '' }, verifyTools()).holds).toBe(true);
  });

  it('outlives the rule that lets jobs go which are put away', async () => {
    const signed = await signedRecordOf(operator, inspector);
    const unsigned = await draftOf(operator);
    for (const { jobId } of [signed, unsigned]) {
      await operator.call('changeJob', { params: { jobId }, body: { isPutAway: true } });
    }
    const later = { now: () => Date.now() + 40 * 86_400_000 };
    await forgetJobs({ ...bench.adapters, clock: later });
    expect((await operator.call('readJob', { params: { jobId: unsigned.jobId } })).status).toBe(200);
    await administrator.call('changeShop', { body: { keepUnsignedMonths: 1 } });
    await forgetJobs({ ...bench.adapters, clock: later });
    await administrator.call('changeShop', { body: { keepUnsignedMonths: null } });
    expect((await operator.callLoosely('readJob', { params: { jobId: unsigned.jobId } })).status).toBe(404);
    expect((await operator.call('readRecord', { params: { recordId: signed.id } })).body.state).toBe('accepted');
    const log = await administrator.call('listAuditLog', {
      query: { subject: `job:${unsigned.jobId}`, act: 'removed' },
    });
    expect(log.body.items).toMatchObject([{ by: null, details: { why: 'retention', months: 1 } }]);
  });

  it('says why it cannot be marked ready', async () => {
    const job = await operator.call('addJob', { body: { name: 'Teasel' } });
    const zone = await operator.call('addZone', {
      params: { jobId: job.body.id },
      body: { name: 'Deck', targetGrade: 'Sa 2' },
    });
    const record = await operator.call('startRecord', { params: { zoneId: zone.body.id }, body: {} });
    expect(record.body).toMatchObject({ content: null });
    expect(record.body.obstacles.join()).toContain('no round of this zone has an after photo');
    const params = { recordId: record.body.id };
    expect(await operator.callLoosely('markRecordReady', { params })).toMatchObject({ status: 409 });
  });
});

describe('the audit log', () => {
  it('follows its chain from the first row, and knows every act of signing, superseding and handing out', async () => {
    const { id } = await signedRecordOf(operator, inspector);
    await bytesOf(inspector, `/api/records/${id}/bundle.zip`);
    await bytesOf(inspector, '/api/exports/readings?format=jsonl');
    await operator.callLoosely('signRecord', { params: { recordId: id }, body: {} });
    const check = await administrator.call('checkAuditLog');
    expect(check.body).toMatchObject({ holds: true, flaws: [] });
    const log = await administrator.call('listAuditLog', { query: { limit: 100 } });
    const found = await administrator.call('listAuditLog', { query: { q: 'test INSPECTOR', limit: 100 } });
    // Rows of the program itself name who asked for them.
    const people = found.body.items.flatMap(({ by }) => (by === null ? [] : [by.name]));
    expect(new Set(people)).toEqual(new Set(['Test inspector']));
    expect((await administrator.call('listAuditLog', { query: { q: '100%' } })).body.items).toEqual([]);
    const acts = log.body.items.slice(0, 4).map(({ act, subject, by }) => [act, subject.split(':')[0], by?.role]);
    expect(acts).toEqual([
      ['was refused', 'endpoint', 'operator'],
      ['exported', 'ledger', 'inspector'],
      ['exported', 'record', 'inspector'],
      ['accepted', 'record', 'inspector'],
    ]);
    const page = await administrator.call('listAuditLog', { query: { limit: 2 } });
    const next = await administrator.call('listAuditLog', { query: { limit: 2, cursor: page.body.nextCursor ?? '' } });
    expect(next.body.items[0].sequence).toBe(page.body.items[1].sequence - 1);
  });

  it('says by name what its rows tell of, and by its id what is gone', async () => {
    const { zone, round } = await addTeaselRound(operator);
    const about = async (subject: string): Promise<unknown> => {
      const log = await administrator.call('listAuditLog', { query: { subject } });
      return log.body.items.at(-1)?.about;
    };
    expect(await about(`round:${round.id}`)).toEqual({ names: [expect.any(String), zone.name], round: round.number });
    expect(await about(`zone:${zone.id}`)).toEqual({ names: [zone.jobName, zone.name], round: null });
    const { body: job } = await operator.call('addJob', { body: { name: 'Rudder stock' } });
    expect(await about(`job:${job.id}`)).toEqual({ names: ['Rudder stock'], round: null });
    await administrator.call('removeJob', { params: { jobId: job.id } });
    expect(await about(`job:${job.id}`)).toBeNull();
  });
});

describe('exports', () => {
  it('hands out assessments, readings and the register with units in the headers', async () => {
    const draft = await draftOf(operator, '=Stern, "aft"');
    const gauge = { kind: 'hygrometer', serialNumber: 'H-12', calibratedOn: '2026-03-01', usedFor: 'climate' };
    const entered = { climate: CLIMATE, instruments: [gauge] };
    await operator.call('enterReadings', { params: { recordId: draft.id }, body: entered });
    await inspector.call('addCard', { body: { name: 'Card 7' } });
    const csv = (await bytesOf(inspector, '/api/exports/assessments')).toString('utf8');
    const [header, ...lines] = csv.trim().split('\r\n');
    expect(header).toContain('scanWidthMm,scanFrequencyHz,travelSpeedMmPerS');
    expect(lines.some((line) => line.includes(`"'=Stern, ""aft"""`))).toBe(true);
    const readings = (await bytesOf(inspector, '/api/exports/readings?format=jsonl'))
      .toString('utf8')
      .trim()
      .split('\n');
    const own = readings
      .map((line) => JSON.parse(line) as Record<string, unknown>)
      .find((row) => row['recordId'] === draft.id);
    expect(own).toMatchObject({
      airTemperatureC: 20,
      relativeHumidityFraction: 0.5,
      climateEnteredBy: 'Test operator',
    });
    const register = (await bytesOf(inspector, '/api/exports/register')).toString('utf8');
    expect(register).toMatch(/^instrument,hygrometer,H-12,2026-03-01,climate,1,/m);
    expect(register).toMatch(/^card,Card 7,/m);
  });
});
