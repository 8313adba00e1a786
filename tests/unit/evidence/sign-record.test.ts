import { describe, expect, it } from 'vitest';
import { GOLDEN_RECORDS, goldenRecord } from '../../../fixtures/golden-records.ts';
import { ed25519Check } from '../../../server/adapters/security/ed25519-check.ts';
import { sha256 } from '../../../server/adapters/security/sha256.ts';
import { RECORD_STATES } from '../../../server/domain/index.ts';
import type { InspectionRecord } from '../../../server/domain/index.ts';
import { canonicalJson } from '../../../server/evidence/canonical-json.ts';
import { openRecord } from '../../../server/evidence/open-record.ts';
import { RECORD_ACTS, moveRecord } from '../../../server/evidence/record-state.ts';
import { sealFlaw } from '../../../server/evidence/seal.ts';
import { signRecord } from '../../../server/evidence/sign-record.ts';
import { TEST_KEY, goldenEvidence } from '../../support/evidence-tools.ts';

const tools = { key: TEST_KEY, sha256 };
const check = { sha256, signatures: ed25519Check() };

function opened(text: string): InspectionRecord {
  const outcome = openRecord(JSON.parse(text));
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.fault));
  return outcome.value;
}

const prepared = { ...opened(goldenRecord('rudder-stock').text), decision: null };
const signing = {
  verdict: 'accepted',
  reason: null,
  signer: { id: 'person-wren', name: 'Ida Wren', role: 'inspector' },
  signedAt: '2026-11-24T11:02:00Z',
  isTwoPersonRuleOn: true,
  auditHead: null,
} as const;

describe('records that each version wrote', () => {
  it.each(GOLDEN_RECORDS)('open, are canonical, and their seals hold: %s, version %i', (name, version) => {
    const { sealed, files } = goldenEvidence(name, version);
    const record = opened(sealed.text);
    expect(record.id).toBe(`record-teasel-${name}`);
    expect(canonicalJson(JSON.parse(sealed.text))).toBe(sealed.text);
    expect(sealFlaw(sealed, check)).toBeNull();
    for (const { file } of [record.rounds[0].after]) {
      expect(sha256(files.get(file.path) ?? new Uint8Array())).toBe(file.sha256);
    }
  });
});

describe('signing a record', () => {
  it('seals the canonical bytes with the decision in them, the same bytes each time', () => {
    const outcome = signRecord(prepared, signing, tools);
    if (!outcome.ok) throw new Error(outcome.fault.code);
    const { text, seal } = outcome.value;
    expect(opened(text).decision).toMatchObject({
      verdict: 'accepted',
      signer: { name: 'Ida Wren' },
      confirmedBy: 'password entered again',
    });
    expect(seal.recordSha256).toBe(sha256(new TextEncoder().encode(text)));
    expect(sealFlaw(outcome.value, check)).toBeNull();
    expect(signRecord(prepared, signing, tools)).toEqual(outcome);
  });

  it.each([
    ['nobody marked it ready', { ...prepared, prepared: null }, signing, 'nobody has marked it ready'],
    ['it is signed already', opened(goldenRecord('rudder-stock').text), signing, 'already signed'],
    [
      'the preparer signs under the two-person rule',
      prepared,
      { ...signing, signer: { id: 'person-finch', name: 'Tom Finch', role: 'inspector' } },
      'two-person rule',
    ],
    [
      'it is rejected without a reason',
      prepared,
      { ...signing, verdict: 'rejected', reason: ' ' } as const,
      'needs a reason',
    ],
  ])('is refused when %s', (_when, record, request, words) => {
    const outcome = signRecord(record, request, tools);
    expect(outcome).toMatchObject({ ok: false, fault: { code: 'record-act-not-allowed' } });
    expect(JSON.stringify(outcome)).toContain(words);
  });

  it('lets the preparer sign where the two-person rule is off', () => {
    const signer = { id: 'person-finch', name: 'Tom Finch', role: 'inspector' };
    expect(signRecord(prepared, { ...signing, signer, isTwoPersonRuleOn: false }, tools).ok).toBe(true);
  });
});

describe('a seal', () => {
  const { sealed } = goldenEvidence('stern-plate');

  it('breaks with any character of the record', () => {
    for (let at = 0; at < sealed.text.length; at += 211) {
      const text = `${sealed.text.slice(0, at)}${sealed.text[at] === '0' ? '1' : '0'}${sealed.text.slice(at + 1)}`;
      expect(sealFlaw({ ...sealed, text }, check)).toContain('SHA-256 differs');
    }
  });

  it('breaks with another hash, signature or key', () => {
    const { seal, text } = sealed;
    const other = goldenEvidence('rudder-stock').sealed.seal;
    const hash = sha256(new TextEncoder().encode(`${text} `));
    expect(sealFlaw({ text: `${text} `, seal: { ...seal, recordSha256: hash } }, check)).toContain('signature');
    expect(sealFlaw({ text, seal: { ...seal, signature: other.signature } }, check)).toContain('signature');
    expect(sealFlaw({ text, seal: { ...seal, keyFingerprint: '0'.repeat(32) } }, check)).toContain('public key');
    expect(sealFlaw({ text, seal: { ...seal, publicKeyPem: 'nonsense' } }, check)).toContain('public key');
  });
});

describe('the states of a record', () => {
  it('lead from draft to ready to a signature, and from there only to being superseded', () => {
    const moves = RECORD_STATES.map((state) => [
      state,
      Object.fromEntries(
        RECORD_ACTS.flatMap((act) => {
          const outcome = moveRecord(state, act);
          return outcome.ok ? [[act, outcome.value]] : [];
        }),
      ),
    ]);
    expect(Object.fromEntries(moves)).toEqual({
      draft: { edit: 'draft', 'mark ready': 'ready' },
      ready: { withdraw: 'draft', accept: 'accepted', reject: 'rejected' },
      accepted: { supersede: 'superseded' },
      rejected: { supersede: 'superseded' },
      superseded: {},
    });
  });

  it('say why not', () => {
    expect(moveRecord('accepted', 'edit')).toMatchObject({
      ok: false,
      fault: { code: 'record-act-not-allowed', act: 'edit', state: 'accepted' },
    });
  });
});
