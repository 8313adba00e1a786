import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { sha256 } from '../../../server/adapters/security/sha256.ts';
import type { AuditEvent } from '../../../server/domain/index.ts';
import { AUDIT_START, appendAuditEvent, auditHead, checkAuditChain } from '../../../server/evidence/audit-chain.ts';

const EVENT: AuditEvent = {
  at: '2026-11-24T11:02:00Z',
  by: { id: 'person-wren', name: 'Ida Wren', role: 'inspector' },
  act: 'accepted',
  subject: 'record:record-teasel-rudder-stock',
  details: { areaMm2: 25300 },
};

describe('the audit log', () => {
  it('hashes a row over its canonical text, so that anybody can compute it by hand', () => {
    const text =
      '{"act":"accepted","at":"2026-11-24T11:02:00Z","by":{"id":"person-wren","name":"Ida Wren","role":"inspector"},' +
      `"details":{"areaMm2":25300},"previousHash":"${'0'.repeat(64)}","sequence":1,"subject":"record:record-teasel-rudder-stock"}`;
    expect(appendAuditEvent(AUDIT_START, EVENT, sha256)).toEqual({
      ...EVENT,
      sequence: 1,
      previousHash: '0'.repeat(64),
      hash: createHash('sha256').update(text).digest('hex'),
    });
  });

  it('holds when it is empty, unless somebody knows a row of it', () => {
    expect(checkAuditChain([], { sha256, knownHeads: [] })).toEqual([]);
    const head = { sequence: 3, hash: 'a'.repeat(64) };
    expect(checkAuditChain([], { sha256, knownHeads: [head] })).toMatchObject([{ sequence: 3 }]);
  });

  it('names a row that has a field more than was hashed', () => {
    const first = appendAuditEvent(AUDIT_START, EVENT, sha256);
    const second = appendAuditEvent(auditHead(first), EVENT, sha256);
    const flaws = checkAuditChain([{ ...first, extra: 1 }, second], { sha256, knownHeads: [] });
    expect(flaws).toEqual([{ sequence: 1, detail: 'was altered: its hash does not fit it' }]);
  });

  it('names the altered row and no other where only its content was changed', () => {
    const first = appendAuditEvent(AUDIT_START, EVENT, sha256);
    const second = appendAuditEvent(auditHead(first), EVENT, sha256);
    const flaws = checkAuditChain([{ ...first, act: 'rejected' }, second], { sha256, knownHeads: [] });
    expect(flaws.map(({ sequence }) => sequence)).toEqual([1]);
  });
});
