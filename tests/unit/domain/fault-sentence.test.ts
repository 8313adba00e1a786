import { describe, expect, it } from 'vitest';
import { FAULT_CODES, faultHttpStatus, faultSentence } from '../../../server/domain/index.ts';
import type { Fault, FaultCode } from '../../../server/domain/index.ts';
import type { ServerFaultNumbers } from '../../../server/domain/server-fault.ts';

/**
 * One fault of each code: a code without an entry is a type error, so the list cannot fall behind the union. Codes of the
 * server's own are covered beside it.
 */
type CoreCode = Exclude<FaultCode, keyof ServerFaultNumbers>;
type Numbers<Code extends FaultCode> = Omit<Extract<Fault, { code: Code }>, 'code'>;

const EXAMPLES: { readonly [Code in CoreCode]: Numbers<Code> } = {
  'file-not-found': { role: 'after photo', path: 'stern.jpg' },
  'file-empty': { role: 'after photo' },
  'photo-wrong-type': { found: 'a PDF document' },
  'photo-truncated': { detail: 'the coded data end early' },
  'photo-too-small': { widthPx: 1, heightPx: 1, leastPx: 32 },
  'photo-too-large': { megapixels: 92.16, mostMegapixels: 80 },
  'photo-animated': { frames: 2 },
  'photo-colour-model': { found: 'CMYK' },
  'photo-transparent': { share: 0.02 },
  'photo-exif-broken': { detail: 'orientation 9' },
  'photo-icc-broken': { detail: 'a tag lies outside the profile' },
  'zone-malformed': { text: 'mm:1,2', detail: 'at least two points are needed' },
  'zone-outside-photo': { outsideShare: 0.25 },
  'zone-crosses-itself': { edges: [0, 2] },
  'zone-over-card': { overlapShare: 0.1 },
  'zone-too-small': { areaPx: 144.4, leastPx: 1600 },
  'zone-needs-card': {},
  'zone-behind-camera': {},
  'card-several': { count: 2 },
  'card-foreign': { markersSeen: 4 },
  'card-edition-unknown': { edition: 3 },
  'card-curved': { residualMm: 5.2, mostMm: 4 },
  'card-cropped': { outsideMm: 17.3 },
  'card-incomplete': { markersSeen: 2, markersNeeded: 3 },
  'card-too-small': { widthPx: 145.2, leastPx: 160 },
  'card-values-malformed': { line: 4, detail: '"abc" is not a number' },
  'card-values-mismatch': { missing: ['A1', 'A2'] },
  'settings-malformed': { path: 'powerW', detail: 'is -5: expected a number above 0' },
  'history-malformed': { path: 'rounds.0.settings', detail: 'is missing' },
  'history-contradictory': { round: 2, detail: 'it starts with more residue than round 1 left' },
  'target-unknown': { target: 'shiny', known: ['Sa 3', 'Sa 2 1/2'] },
  'trial-malformed': { path: 'coupon', detail: 'is missing' },
  'trial-does-not-fit': { patches: 8, widthMm: 60, heightMm: 40, leastSideMm: 20 },
  'trial-without-choice': { settings: 3, patches: 8 },
  'patch-contradictory': { detail: 'residue grew from 13 % before to 90 % after the treatment' },
  'trial-patches-differ': { missing: ['A1', 'B3'] },
  'quote-malformed': { path: 'areaM2', detail: 'is -2: expected a number above 0' },
  'photos-identical': {},
  'photos-of-different-things': { detail: 'the zone covers 40 cm2 before and 90 cm2 after' },
  'nothing-measured': { unmeasuredShare: 0.97 },
  'model-missing': { model: 'surface-classes/1' },
  'model-altered': { model: 'surface-classes/1', expected: 'a'.repeat(64), found: 'b'.repeat(64) },
  'record-malformed': { path: 'rounds', detail: 'is missing' },
  'record-version-unknown': { found: 'bareplate/record@9', newest: 'bareplate/record@2' },
  'record-act-not-allowed': { act: 'sign', state: 'signed', detail: 'it is signed already' },
  'record-file-differs': { path: 'photos/after.jpg', detail: 'its hash differs' },
  'seal-key-missing': {},
  'backup-damaged': { path: 'ledger.db', detail: 'it is missing' },
  'folder-not-empty': { path: '/data' },
  'bundle-too-large': { sizeBytes: 5e9, mostBytes: 4e9 },
  'gauge-study-malformed': { path: 'measurements', detail: 'is missing' },
  'gauge-photo-refused': { photo: 'finch-1-a.jpg', detail: 'The zone is too small.' },
  'time-stamp-refused': { detail: 'its signature does not hold' },
};

const FAULTS = Object.entries(EXAMPLES).map(([code, numbers]) => ({ code, ...numbers }) as Fault);

/** Words by which a sentence tells what to do, or what was expected. */
const ADVICE =
  /check|copy|expected|needed|needs|send|take|retake|move|give|leave|use|print|wipe|fix|choose|measure|restore|change|cannot|ask|photograph|known|open|split|contradicts/i;

describe('faults of the measuring core', () => {
  it('all have a place in the list of codes, and the list holds no others', () => {
    const known = new Set<string>(FAULT_CODES);
    for (const { code } of FAULTS) expect(known.has(code)).toBe(true);
    expect(new Set(FAULT_CODES).size).toBe(FAULT_CODES.length);
    for (const code of FAULT_CODES) expect(code).toMatch(/^[a-z]+(-[a-z]+)+$/);
  });

  it.each(FAULTS.map((fault) => [fault.code, fault] as const))('%s: one sentence that says what to do', (_, fault) => {
    const sentence = faultSentence(fault);
    expect(sentence).toMatch(/^[A-Z\d].{20,}[.]$/s);
    expect(sentence).not.toMatch(/undefined|NaN|null|\[object|\n/);
    expect(sentence).toMatch(ADVICE);
  });

  it.each(FAULTS.map((fault) => [fault.code, fault] as const))(
    '%s: an HTTP status for a refused request',
    (_, fault) => {
      expect([404, 409, 413, 415, 422]).toContain(faultHttpStatus(fault));
    },
  );

  it('carry their numbers into the sentence', () => {
    expect(faultSentence({ code: 'card-too-small', widthPx: 145.2, leastPx: 160 })).toContain('145 px');
    expect(faultSentence({ code: 'zone-outside-photo', outsideShare: 0.25 })).toContain('25 %');
    // Edges are counted from one for people.
    expect(faultSentence({ code: 'zone-crosses-itself', edges: [0, 2] })).toContain('edge 1 meets edge 3');
  });
});
