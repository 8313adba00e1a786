import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { goldenTimeStamp } from '../../../fixtures/golden-records.ts';
import { openSqliteLedger } from '../../../server/adapters/database/sqlite-ledger.ts';
import { sha256 } from '../../../server/adapters/security/sha256.ts';
import { timeStamps } from '../../../server/adapters/security/time-stamp/time-stamps.ts';
import { NO_READINGS, success } from '../../../server/domain/index.ts';
import { addTimeStamp } from '../../../server/services/sign-zone-record.ts';
import type { Ledger } from '../../../server/services/ledger.ts';
import { goldenEvidence } from '../../support/evidence-tools.ts';

const AT = '2026-11-24T11:02:00.000Z';
const [ID, ZONE, JOB] = ['record', 'zone', 'job'].map((_noun, at) => `018f6f2e-0000-7000-8000-00000000000${at + 1}`);
const WREN = { id: 'person-wren', name: 'Ida Wren', role: 'inspector' } as const;

let folder: string;
let ledger: Ledger;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'bareplate-stamp-'));
  ledger = await openSqliteLedger(join(folder, 'ledger.db'));
  const made = { createdAt: AT, createdBy: null };
  await ledger.jobs.add({ ...made, id: JOB, name: 'Teasel', customer: '', note: '', isInvented: true });
  const zone = { name: 'Rudder stock', note: '', surfaceKind: '', thicknessMm: null, areaM2: null, targetGrade: null };
  await ledger.zones.add({ ...made, ...zone, id: ZONE, jobId: JOB, machineId: null, labelCode: 'AAAAAAAA' });
  await ledger.records.add({ ...made, id: ID, zoneId: ZONE, readings: NO_READINGS, supersedesId: null });
  const { sealed } = goldenEvidence('rudder-stock');
  await ledger.records.makeReady(ID, { text: sealed.text, files: [] }, AT);
  await ledger.records.sign(ID, { state: 'accepted', sealed, signedAt: AT, signerName: WREN.name });
});
afterAll(async () => {
  await ledger.close();
  await rm(folder, { recursive: true, force: true });
});

it('keeps the reply of an authority beside the record it was asked for, once, and tells the log', async () => {
  const ports = {
    ledger,
    sha256,
    timeStamps: timeStamps(),
    clock: { now: () => Date.parse(AT) },
    records: { read: () => Promise.resolve(success(null)) },
  } as unknown as Parameters<typeof addTimeStamp>[3];
  const { reply } = goldenTimeStamp();
  expect((await addTimeStamp(ID, reply, WREN, ports)).ok).toBe(true);
  expect(Buffer.compare((await ledger.records.find(ID))?.timeStamp ?? Buffer.alloc(0), reply)).toBe(0);
  const again = await addTimeStamp(ID, reply, WREN, ports);
  expect(again).toMatchObject({ ok: false, fault: { code: 'state-conflict' } });
  await expect(ledger.records.setTimeStamp(ID, Buffer.from('other'))).rejects.toThrow(/never changed/);
  expect(JSON.stringify(await ledger.audit.list({ sort: 'sequence', limit: 9 }))).toContain('stampedAt');
});
