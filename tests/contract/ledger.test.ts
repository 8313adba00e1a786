import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openSqliteLedger } from '../../server/adapters/database/sqlite-ledger.ts';
import { randomTokens } from '../../server/adapters/security/random-tokens.ts';
import { sha256 } from '../../server/adapters/security/sha256.ts';
import { fraction, NO_READINGS } from '../../server/domain/index.ts';
import { appendAuditEvent } from '../../server/evidence/audit-chain.ts';
import type { Ledger } from '../../server/services/ledger.ts';
import { sampleAssessment } from '../support/sample-assessment.ts';
import { TEASEL_SETTINGS } from '../support/teasel-round.ts';

const TAKEN = { localTime: '2026-11-24T10:26:00', utcOffset: null };
const NOTHING_LEFT = {
  fractions: { bare: fraction(1), stain: fraction(0), rust: fraction(0), scale: fraction(0), coating: fraction(0) },
  residue: fraction(0),
  unmeasuredFraction: fraction(0),
  changedFraction: fraction(0.1),
  decided: null,
};

interface Opened {
  readonly ledger: Ledger;
  /** Closes the ledger and opens what it left. */
  reopen(): Promise<Ledger>;
  close(): Promise<void>;
}

const IMPLEMENTATIONS: Readonly<Record<string, () => Promise<Opened>>> = {
  SQLite: async () => {
    const folder = await mkdtemp(join(tmpdir(), 'bareplate-ledger-'));
    const path = join(folder, 'ledger.db');
    let ledger = await openSqliteLedger(path);
    return {
      ledger,
      async reopen() {
        await ledger.close();
        ledger = await openSqliteLedger(path);
        return ledger;
      },
      async close() {
        await ledger.close();
        await rm(folder, { recursive: true, force: true });
      },
    };
  },
};

const AT = '2026-05-01T08:00:00.000Z';
const LATER = '2026-05-01T09:00:00.000Z';
const tokens = randomTokens(() => Date.parse(AT));
const newId = (): string => tokens.newId();

describe.each(Object.entries(IMPLEMENTATIONS))('a ledger in %s', (_name, open) => {
  let opened: Opened;
  let ledger: Ledger;
  beforeEach(async () => {
    opened = await open();
    ledger = opened.ledger;
  });
  afterEach(() => opened.close());

  const addJob = async (name = 'Workboat Teasel'): Promise<string> => {
    const id = newId();
    await ledger.jobs.add({ id, name, customer: '', note: '', isInvented: false, createdAt: AT, createdBy: null });
    return id;
  };
  const addZone = async (jobId: string, name = 'Stern plate'): Promise<string> => {
    const id = newId();
    const zone = {
      name,
      note: '',
      surfaceKind: '',
      thicknessMm: null,
      areaM2: 1.5,
      targetGrade: null,
      machineId: null,
    };
    await ledger.zones.add({ ...zone, id, jobId, labelCode: tokens.newLabelCode(), createdAt: AT, createdBy: null });
    return id;
  };
  const addRound = async (zoneId: string, minutesSpent: number | null = null): Promise<string> => {
    const id = newId();
    const nothing = { machineId: null, cardId: null, scrapeTest: null, heatTint: null, note: '' };
    await ledger.rounds.add({
      ...nothing,
      id,
      zoneId,
      settings: TEASEL_SETTINGS,
      minutesSpent,
      createdAt: AT,
      createdBy: null,
    });
    return id;
  };
  const addPhoto = async (sha256 = 'a'.repeat(64), addedAt = AT): Promise<string> => {
    const id = newId();
    const file = { fileName: 'x.jpg', mediaType: 'image/jpeg', sizeBytes: 10, widthPx: 640, heightPx: 480 };
    await ledger.photos.add({
      ...file,
      id,
      sha256,
      uploadId: id.replaceAll('-', ''),
      takenAt: TAKEN,
      addedAt,
      addedBy: null,
    });
    expect((await ledger.photos.find(id))?.takenAt).toEqual(TAKEN);
    return id;
  };
  const addAssessment = async (roundId: string, afterPhotoId: string, queuedAt = AT): Promise<string> => {
    const id = newId();
    const basis = {
      settings: TEASEL_SETTINGS,
      machineId: null,
      cardId: null,
      surfaceKind: '',
      thicknessMm: null,
      scrapeTest: null,
      outlines: { before: null, after: null },
    };
    const asked = { requestedBy: null, targetGrade: 'Sa 2 1/2', beforePhotoId: null, programVersion: '1' };
    await ledger.assessments.add({ ...asked, id, roundId, queuedAt, afterPhotoId, basis });
    return id;
  };
  const finish = (id: string, rust: number): Promise<void> =>
    ledger.assessments.finish(id, LATER, {
      result: sampleAssessment(rust),
      decision: 'does not meet',
      minutesPerSquareMetre: 2.2,
      files: { overlay: 'd'.repeat(64), classMaps: { before: null, after: null } },
      streakLines: [
        [
          [1, 2],
          [3.5, 4],
        ],
      ],
    });

  it('keeps everything over an end and a new start', async () => {
    const zoneId = await addZone(await addJob());
    const assessmentId = await addAssessment(await addRound(zoneId), await addPhoto());
    await finish(assessmentId, 0.1);
    const before = [await ledger.zones.find(zoneId), await ledger.assessments.find(assessmentId)];
    ledger = await opened.reopen();
    expect([await ledger.zones.find(zoneId), await ledger.assessments.find(assessmentId)]).toEqual(before);
    expect(before[1]).toMatchObject({ state: 'done', result: sampleAssessment(0.1), residue: { value: 0.1 } });
  });

  it('does all of a transaction or nothing of it', async () => {
    await expect(
      ledger.transact(async ({ jobs, machines }) => {
        await jobs.add({
          id: newId(),
          name: 'x',
          customer: '',
          note: '',
          isInvented: false,
          createdAt: AT,
          createdBy: null,
        });
        await machines.remove('nothing');
        throw new Error('stop');
      }),
    ).rejects.toThrow('stop');
    expect(await ledger.jobs.counts()).toMatchObject({ jobs: 0 });
  });

  it('says no to an id that is taken and leaves what is there', async () => {
    const id = await addJob('First');
    const second = { id, name: 'Second', customer: '', note: '', isInvented: false, createdAt: AT, createdBy: null };
    expect(await ledger.jobs.add(second)).toBe(false);
    expect(await ledger.jobs.find(id)).toMatchObject({ name: 'First' });
  });

  it('numbers the rounds of each zone from one and sums their minutes', async () => {
    const jobId = await addJob();
    const [first, second] = [await addZone(jobId), await addZone(jobId)];
    await addRound(first, 4);
    await addRound(first, null);
    await addRound(second, null);
    const last = await ledger.rounds.find(await addRound(first, 2.5));
    expect(last?.number).toBe(3);
    expect(await ledger.zones.find(first)).toMatchObject({ roundCount: 3, minutesSpent: 6.5 });
    expect(await ledger.zones.find(second)).toMatchObject({ roundCount: 1, minutesSpent: null });
  });

  it('removes with a job all that belongs to it, but no photo that somebody may still want', async () => {
    const jobId = await addJob();
    const zoneId = await addZone(jobId);
    const [roundId, photoId] = [await addRound(zoneId), await addPhoto()];
    const assessmentId = await addAssessment(roundId, photoId);
    expect(await ledger.jobs.remove(jobId)).toBe(true);
    expect(await ledger.jobs.remove(jobId)).toBe(false);
    expect(await ledger.zones.find(zoneId)).toBeNull();
    expect(await ledger.assessments.find(assessmentId)).toBeNull();
    expect(await ledger.photos.find(photoId)).not.toBeNull();
  });

  it('forgets photos that nothing shows once they are old', async () => {
    const zoneId = await addZone(await addJob());
    const [shown, loose] = [await addPhoto('a'.repeat(64)), await addPhoto('b'.repeat(64))];
    const fresh = await addPhoto('c'.repeat(64), LATER);
    await ledger.rounds.setPhoto(await addRound(zoneId), 'after', { id: shown, outline: null });
    await ledger.photos.removeUnused(LATER);
    expect(await ledger.photos.find(loose)).toBeNull();
    expect(await ledger.photos.find(shown)).not.toBeNull();
    expect(await ledger.photos.find(fresh)).not.toBeNull();
    expect(await ledger.namedObjects()).toEqual(new Set(['a'.repeat(64), 'c'.repeat(64)]));
  });

  it('names every file of an assessment, so that none is swept away', async () => {
    const id = await addAssessment(await addRound(await addZone(await addJob())), await addPhoto());
    const map = { widthPx: 8, heightPx: 4, photoPxPerPixel: 80, planeFromMap: [1, 0, 0, 0, 1, 0, 0, 0, 1] };
    await ledger.assessments.finish(id, LATER, {
      result: sampleAssessment(0.1),
      decision: null,
      minutesPerSquareMetre: null,
      files: {
        overlay: 'd'.repeat(64),
        classMaps: {
          before: { ...map, sha256: 'e'.repeat(64), surface: null, light: null, doubtfulSha256: null },
          after: { ...map, sha256: 'f'.repeat(64), surface: null, light: null, doubtfulSha256: '0'.repeat(64) },
        },
      },
      streakLines: [],
    });
    expect(await ledger.namedObjects()).toEqual(new Set(['a', 'd', 'e', 'f', '0'].map((digit) => digit.repeat(64))));
    const maps = { before: '1'.repeat(64), after: '2'.repeat(64) };
    await ledger.assessments.setCorrected(id, { before: NOTHING_LEFT, after: NOTHING_LEFT }, maps);
    expect((await ledger.assessments.filesOf(id))?.correctedMaps).toEqual(maps);
    expect([...(await ledger.namedObjects())]).toEqual(expect.arrayContaining(Object.values(maps)));
    await ledger.assessments.setCorrected(id, { before: null, after: null }, { before: null, after: null });
    expect((await ledger.assessments.filesOf(id))?.correctedMaps).toEqual({ before: null, after: null });
    expect((await ledger.assessments.find(id))?.classMaps).toMatchObject({
      before: { hasDoubtful: false },
      after: { hasDoubtful: true },
    });
  });

  it('finds a zone by the name of its job also after the job was renamed', async () => {
    const jobId = await addJob('Teasel');
    const zoneId = await addZone(jobId);
    const search = (q: string): ReturnType<Ledger['zones']['list']> =>
      ledger.zones.list({ q, sort: 'name', limit: 10, putAway: 'no' });
    expect((await search('teasel stern')).items.map((zone) => zone.id)).toEqual([zoneId]);
    await ledger.jobs.change(jobId, { name: 'Thistle' });
    expect((await search('thistle stern')).items.map((zone) => zone.id)).toEqual([zoneId]);
    expect((await search('teasel')).items).toEqual([]);
  });

  it('shows the newest assessment of a zone and the newest finished one', async () => {
    const zoneId = await addZone(await addJob());
    const [roundId, photoId] = [await addRound(zoneId), await addPhoto()];
    const done = await addAssessment(roundId, photoId, AT);
    await finish(done, 0.2);
    const waiting = await addAssessment(roundId, photoId, LATER);
    expect((await ledger.zones.find(zoneId))?.latest?.id).toBe(waiting);
    expect((await ledger.assessments.latestDoneOf(zoneId))?.id).toBe(done);
    expect(await ledger.assessments.listOwed()).toEqual([{ id: waiting, state: 'queued' }]);
    const rounds = await ledger.assessments.doneByRound(zoneId);
    expect(rounds).toMatchObject([{ roundNumber: 1, result: { after: { residue: { value: 0.2 } } } }]);
  });

  it('pages an order with equal values without losing or repeating a row', async () => {
    const jobId = await addJob();
    const ids = new Set<string>();
    for (let i = 0; i < 9; i++) ids.add(await addZone(jobId, 'Same name'));
    for (const sort of ['name', '-name', 'lastActivityAt'] as const) {
      const seen: string[] = [];
      let cursor: string | undefined;
      do {
        const page = await ledger.zones.list({ sort, limit: 2, cursor, putAway: 'all' });
        seen.push(...page.items.map((zone) => zone.id));
        cursor = page.nextCursor ?? undefined;
      } while (cursor !== undefined);
      expect(seen).toHaveLength(9);
      expect(new Set(seen)).toEqual(ids);
    }
  });

  it('starts from the front with a cursor that it cannot read', async () => {
    await addJob();
    for (const cursor of ['x', Buffer.from('{}').toString('base64url'), Buffer.from('[1]').toString('base64url')]) {
      const page = await ledger.jobs.list({ sort: 'name', limit: 5, cursor, putAway: 'no' });
      expect(page.items).toHaveLength(1);
    }
  });

  it('keeps corrections with who and when, withdrawn ones too', async () => {
    const roundId = await addRound(await addZone(await addJob()));
    const assessmentId = await addAssessment(roundId, await addPhoto());
    const personId = newId();
    await ledger.people.add({
      id: personId,
      name: 'P',
      signInName: 'p',
      role: 'inspector',
      passwordHash: null,
      createdAt: AT,
    });
    const marks = [{ kind: 'fill' as const, paint: 'bare' as const, at: [1, 1] as [number, number] }];
    const id = newId();
    await ledger.corrections.add({
      id,
      assessmentId,
      map: 'after',
      marks,
      mayTrain: true,
      reason: 'why',
      madeAt: AT,
      madeBy: personId,
    });
    expect(await ledger.corrections.withdraw(id, assessmentId, { at: LATER, by: personId })).toBe(true);
    expect(await ledger.corrections.withdraw(id, assessmentId, { at: LATER, by: personId })).toBe(false);
    expect(await ledger.corrections.list(assessmentId)).toEqual([
      {
        id,
        assessmentId,
        map: 'after',
        marks,
        mayTrain: true,
        reason: 'why',
        madeAt: AT,
        madeBy: { id: personId, name: 'P' },
        withdrawnAt: LATER,
        withdrawnBy: { id: personId, name: 'P' },
      },
    ]);
    const maps = { before: null, after: 'c'.repeat(64) };
    await ledger.assessments.setCorrected(assessmentId, { before: null, after: NOTHING_LEFT }, maps);
    expect(await ledger.assessments.find(assessmentId)).toMatchObject({
      isCorrected: true,
      correctedResidue: NOTHING_LEFT.residue,
      corrected: { after: NOTHING_LEFT },
    });
  });

  it('knows a machine that is used from one that is not', async () => {
    const limits = TEASEL_SETTINGS;
    const machine = {
      powerW: { min: limits.powerW, max: limits.powerW },
      scanWidthMm: { min: limits.scanWidthMm, max: limits.scanWidthMm },
      scanFrequencyHz: { min: limits.scanFrequencyHz, max: limits.scanFrequencyHz },
      travelSpeedMmPerS: { min: limits.travelSpeedMmPerS, max: limits.travelSpeedMmPerS },
      strokesPerCycle: 2 as const,
      spotDiameterMm: limits.scanWidthMm,
      maxPasses: 3,
    };
    const dialSteps = { powerW: 50, scanWidthMm: 5, scanFrequencyHz: 1, travelSpeedMmPerS: 1 };
    const id = newId();
    await ledger.machines.add({
      id,
      name: 'M',
      serialNumber: 'CW-1',
      note: '',
      machine,
      dialSteps,
      isInvented: false,
      createdAt: AT,
    });
    expect(await ledger.machines.find(id)).toMatchObject({ machine, dialSteps });
    expect(await ledger.machines.isUsed(id)).toBe(false);
    await ledger.zones.change(await addZone(await addJob()), { machineId: id });
    expect(await ledger.machines.isUsed(id)).toBe(true);
  });

  it('marks what happens once', async () => {
    expect(await ledger.shop.markOnce('demo-offered')).toBe(true);
    expect(await ledger.shop.markOnce('demo-offered')).toBe(false);
  });

  it('ends sessions and links of a person, and those that are over', async () => {
    const personId = newId();
    await ledger.people.add({
      id: personId,
      name: 'P',
      signInName: 'p',
      role: 'operator',
      passwordHash: null,
      createdAt: AT,
    });
    const session = { personId, device: '', createdAt: AT, lastSeenAt: AT, expiresAt: LATER };
    const [first, second] = [newId(), newId()];
    await ledger.sessions.add({ ...session, id: first, tokenHash: 'one' });
    await ledger.sessions.add({ ...session, id: second, tokenHash: 'two', expiresAt: '2026-06-01T00:00:00.000Z' });
    await ledger.sessions.removeExpired('2026-05-02T00:00:00.000Z');
    expect(await ledger.sessions.findByTokenHash('one')).toBeNull();
    expect(await ledger.sessions.findByTokenHash('two')).toMatchObject({ session: { id: second } });
    await ledger.sessions.removeAllOf(personId, second);
    expect(await ledger.sessions.listOf(personId)).toHaveLength(1);
    await ledger.sessions.removeAllOf(personId, null);
    expect(await ledger.sessions.listOf(personId)).toEqual([]);
    await ledger.invitations.replace({ personId, tokenHash: 'old', expiresAt: LATER });
    await ledger.invitations.replace({ personId, tokenHash: 'new', expiresAt: LATER });
    expect(await ledger.invitations.findByTokenHash('old')).toBeNull();
    expect(await ledger.invitations.findByTokenHash('new')).toEqual({ personId, expiresAt: LATER });
  });

  describe('as a queue', () => {
    const lease = (): ReturnType<Ledger['queue']['lease']> => ledger.queue.lease(LATER);

    it('hands out each item once, first come first served', async () => {
      for (const subject of ['a', 'b', 'a']) await ledger.queue.enqueue('assessment', subject, AT);
      expect(await ledger.queue.waitingBefore('b')).toBe(1);
      expect((await lease())?.subjectId).toBe('a');
      expect(await ledger.queue.counts()).toEqual({ waiting: 1, running: 1 });
      expect(await ledger.queue.waitingBefore('b')).toBe(0);
      expect((await lease())?.subjectId).toBe('b');
      expect(await lease()).toBeNull();
    });

    it('waits with a second attempt until it is due, and counts it', async () => {
      await ledger.queue.enqueue('assessment', 'a', AT);
      const item = await lease();
      await ledger.queue.retry(item?.id ?? 0, '2026-05-01T10:00:00.000Z');
      expect(await lease()).toBeNull();
      expect(await ledger.queue.lease('2026-05-01T10:00:00.000Z')).toMatchObject({ subjectId: 'a', failures: 1 });
    });

    it('puts back what a dead process had, and lets the others go first when that happens again and again', async () => {
      await ledger.queue.enqueue('assessment', 'a', AT);
      await ledger.queue.enqueue('assessment', 'b', AT);
      for (let death = 1; death <= 3; death++) {
        expect((await lease())?.subjectId).toBe('a');
        ledger = await opened.reopen();
        expect(await ledger.queue.recover(AT)).toBe(1);
      }
      expect((await lease())?.subjectId).toBe('a');
      await ledger.queue.recover(AT);
      expect((await lease())?.subjectId).toBe('b');
      expect(await lease()).toMatchObject({ subjectId: 'a', interruptions: 4, failures: 0 });
    });

    it('gives back untouched what is released, and forgets what is finished or removed', async () => {
      await ledger.queue.enqueue('comparison', 'a', AT);
      const item = await lease();
      await ledger.queue.release(item?.id ?? 0);
      const again = await lease();
      expect(again).toEqual(item);
      await ledger.queue.finish(again?.id ?? 0);
      await ledger.queue.enqueue('comparison', 'b', AT);
      await ledger.queue.remove('b');
      expect(await ledger.queue.counts()).toEqual({ waiting: 0, running: 0 });
    });
  });

  it('refuses to change or remove a row of the audit log, a signed record or its files', async () => {
    const zoneId = await addZone(await addJob());
    const id = newId();
    await ledger.records.add({ id, zoneId, readings: NO_READINGS, supersedesId: null, createdAt: AT, createdBy: null });
    const file = { path: 'card/values.json', sha256: 'a'.repeat(64) };
    await ledger.records.makeReady(id, { text: '{}', files: [file] }, AT);
    const seal = { algorithm: 'Ed25519', recordSha256: 'b'.repeat(64), keyFingerprint: 'c'.repeat(32) } as const;
    const sealed = { text: '{"a":1}', seal: { ...seal, publicKeyPem: 'pem', signature: 'd'.repeat(128) } };
    await ledger.records.sign(id, { state: 'accepted', sealed, signedAt: AT, signerName: 'Ida Wren' });
    const event = { at: AT, by: null, act: 'accepted', subject: `record:${id}`, details: {} } as const;
    await ledger.audit.add(appendAuditEvent(await ledger.audit.head(), event, sha256));
    for (const wrong of [
      () => ledger.records.takeBack(id, AT),
      () =>
        ledger.records
          .setReadings(id, { ...NO_READINGS }, AT)
          .then(() => ledger.records.sign(id, { state: 'rejected', sealed, signedAt: AT, signerName: 'x' })),
      () => ledger.zones.remove(zoneId),
    ]) {
      await expect(wrong()).rejects.toThrow(/never/);
    }
    expect((await ledger.records.find(id))?.text).toBe('{"a":1}');
    expect(await ledger.namedObjects()).toContain(file.sha256);
    await ledger.records.markSuperseded(id);
    expect(await ledger.records.find(id)).toMatchObject({ state: 'superseded', seal });
    expect((await ledger.audit.list({ sort: 'sequence', limit: 9 })).items).toHaveLength(1);
  });
});
