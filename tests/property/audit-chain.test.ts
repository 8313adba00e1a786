import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sha256 } from '../../server/adapters/security/sha256.ts';
import { AUDIT_ACTS } from '../../server/domain/index.ts';
import type { AuditEntry, AuditEvent } from '../../server/domain/index.ts';
import { AUDIT_START, appendAuditEvent, auditHead, checkAuditChain } from '../../server/evidence/audit-chain.ts';

const event = fc.record({
  at: fc.constantFrom('2026-11-24T08:00:00Z', '2026-11-24T08:00:01Z'),
  by: fc.constantFrom(null, { id: 'person-wren', name: 'Ida Wren', role: 'inspector' }),
  act: fc.constantFrom(...AUDIT_ACTS),
  subject: fc.constantFrom('record:record-teasel-stern-plate', 'photo:after'),
  details: fc.dictionary(fc.stringMatching(/^[a-z]{1,6}Mm$/), fc.integer(), { maxKeys: 3 }),
});

function chain(events: readonly AuditEvent[]): AuditEntry[] {
  const rows: AuditEntry[] = [];
  for (const one of events) {
    rows.push(appendAuditEvent(rows.length === 0 ? AUDIT_START : auditHead(rows[rows.length - 1]), one, sha256));
  }
  return rows;
}

const check = (rows: readonly unknown[], heads: AuditEntry[] = []): ReturnType<typeof checkAuditChain> =>
  checkAuditChain(rows, { sha256, knownHeads: heads.map(auditHead) });

/** One character of the row's text as it is kept, replaced by another one. */
function altered(row: AuditEntry, at: number): unknown {
  const text = JSON.stringify(row);
  const place = at % text.length;
  const changed = `${text.slice(0, place)}${text[place] === '1' ? '2' : '1'}${text.slice(place + 1)}`;
  try {
    return JSON.parse(changed);
  } catch {
    return changed;
  }
}

const log = fc.array(event, { minLength: 2, maxLength: 8 }).map(chain);

describe('any audit log', () => {
  it('holds as it was written', () => {
    fc.assert(
      fc.property(log, (rows) => {
        expect(check(rows, [rows[rows.length - 1]])).toEqual([]);
      }),
      { seed: 1 },
    );
  });

  it('names the row in which one character was altered (500 logs)', () => {
    fc.assert(
      fc.property(log, fc.nat(), fc.nat(), (rows, which, at) => {
        const index = which % rows.length;
        const damaged = altered(rows[index], at);
        fc.pre(JSON.stringify(damaged) !== JSON.stringify(rows[index]));
        const flaws = check(rows.map((row, k) => (k === index ? damaged : row)));
        expect(flaws[0]?.sequence).toBe(index + 1);
      }),
      { numRuns: 500, seed: 2 },
    );
  });

  it('names the row that was removed, the rows that were swapped, and the row that was put in', () => {
    fc.assert(
      fc.property(log, fc.nat(), (rows, which) => {
        const index = which % (rows.length - 1);
        const without = rows.filter((_row, k) => k !== index);
        expect(check(without)[0].sequence).toBe(index + 1);
        const swapped = rows.map((row, k) => (k === index ? rows[index + 1] : k === index + 1 ? rows[index] : row));
        expect(check(swapped)[0].sequence).toBe(index + 1);
        const doubled = [...rows.slice(0, index + 1), rows[index], ...rows.slice(index + 1)];
        expect(check(doubled)[0].sequence).toBe(index + 2);
      }),
      { seed: 3 },
    );
  });

  it('is found to be cut off at the end, or written anew, where a signed record knows its head', () => {
    fc.assert(
      fc.property(log, (rows) => {
        const last = rows[rows.length - 1];
        expect(check(rows.slice(0, -1), [last])).toMatchObject([{ sequence: last.sequence }]);
        const anew = chain(
          rows.map((row) => ({ at: row.at, by: row.by, act: row.act, subject: 'record:other', details: {} })),
        );
        expect(check(anew)).toEqual([]);
        expect(check(anew, [last])).toMatchObject([{ sequence: last.sequence }]);
      }),
      { seed: 4 },
    );
  });
});
