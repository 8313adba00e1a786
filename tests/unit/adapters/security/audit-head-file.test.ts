import { mkdtemp, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { auditHeadFile, readAuditHeads, writeAuditHead } from '../../../../server/adapters/security/audit-head-file.ts';
import { newSealKeyPem, sealKeyFrom } from '../../../../server/adapters/security/ed25519-key.ts';
import type { AuditHead } from '../../../../server/domain/index.ts';

const key = sealKeyFrom(newSealKeyPem());
const headAt = (sequence: number): AuditHead => ({ sequence, hash: sequence.toString(16).padStart(64, '0') });

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'bareplate-head-'));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

it('keeps the newest head, and nothing beside it', async () => {
  const file = auditHeadFile(folder, key);
  await Promise.all([3, 1, 2].map((sequence) => file.keep(headAt(sequence))));
  const [kept, ...others] = await readAuditHeads(folder);
  expect([JSON.parse(kept.text), others]).toEqual([expect.objectContaining({ head: headAt(3) }), []]);
  expect(await readdir(folder)).toEqual([kept.name]);
});

it('is written by a server and a backup at the same time without either failing', async () => {
  const writers = Array.from({ length: 40 }, (_, sequence) => writeAuditHead(folder, key, headAt(sequence)));
  await Promise.all(writers);
  expect(await readdir(folder)).toHaveLength(1);
});
