import { describe, expect, it } from 'vitest';
import {
  measuredShare,
  STANDARD_GRADES,
  type GradeDecision,
  type Measured,
  type StandardGrade,
} from '../../../../server/domain/index.ts';
import { gradeSurface, type GradeOptions } from '../../../../server/measure/grade/grade-surface.ts';

const NONE = measuredShare(0, 0, 0.015);

const surfaceOf = (shares: { residue?: Measured; stain?: Measured }) => ({
  residue: shares.residue ?? NONE,
  fractions: { bare: NONE, stain: shares.stain ?? NONE, rust: NONE, scale: NONE, coating: NONE },
});

type Decisions = Record<StandardGrade['grade'], GradeDecision>;

/** Decisions by grade name, the zone being its own unit area unless the worst squares are given. */
function decisionsOf(shares: { residue?: Measured; stain?: Measured }, options: Partial<GradeOptions> = {}): Decisions {
  const grades = gradeSurface(surfaceOf(shares), { worst: null, ...options });
  return Object.fromEntries(grades.map(({ grade, decision }) => [grade, decision])) as Decisions;
}

describe('grades of a surface', () => {
  it('compares with every grade of the list, each with one sentence that carries the numbers', () => {
    const grades = gradeSurface(surfaceOf({ residue: measuredShare(0.2, 0.17, 0.23) }), { worst: null });
    expect(grades.map(({ grade }) => grade)).toEqual(STANDARD_GRADES.map(({ grade }) => grade));
    for (const { because } of grades) expect(because).toMatch(/^In .*\.$/);
    expect(grades.find(({ grade }) => grade === 'Industrial')?.because).toContain('20 % (17 % to 23 %)');
  });

  it('reads a spotless surface as meeting the grades of looks, and leaves adhesion to the scrape test', () => {
    expect(decisionsOf({})).toEqual({
      'Sa 3': 'meets',
      'Sa 2 1/2': 'meets',
      'Sa 2': 'meets',
      'Sa 1': 'cannot tell',
      'White Metal': 'meets',
      'Near-White Metal': 'meets',
      Commercial: 'meets',
      Industrial: 'meets',
      'Brush-Off': 'cannot tell',
    });
    const scraped = decisionsOf({}, { scrapeTest: 'clean' });
    expect([scraped['Sa 1'], scraped['Brush-Off']]).toEqual(['meets', 'meets']);
  });

  // SSPC-SP 10 / NACE No. 2: random staining at most 5 % of each unit area, no residue. SP 6 / No. 3: 33 %.
  it.each([
    [0.03, 0.02, 0.04, 'meets', 'meets'],
    [0.05, 0.03, 0.07, 'cannot tell', 'meets'],
    [0.2, 0.17, 0.23, 'does not meet', 'meets'],
    [0.33, 0.3, 0.36, 'does not meet', 'cannot tell'],
    [0.5, 0.45, 0.55, 'does not meet', 'does not meet'],
  ])('judges %d stain (%d to %d) near-white: %s, commercial: %s', (...[value, low, high, ...expected]) => {
    const decisions = decisionsOf({ stain: measuredShare(value, low, high) });
    expect([decisions['Near-White Metal'], decisions.Commercial]).toEqual(expected);
  });

  // SSPC-SP 14 / NACE No. 8: residue at most 10 % of each unit area, any stain.
  it.each([
    [0.07, 0.05, 0.09, 'meets'],
    [0.1, 0.08, 0.12, 'cannot tell'],
    [0.15, 0.12, 0.18, 'does not meet'],
  ])('judges %d residue (%d to %d) industrial: %s, and near-white never', (value, low, high, industrial) => {
    const decisions = decisionsOf({ residue: measuredShare(value, low, high), stain: measuredShare(0.9, 0.85, 0.95) });
    expect(decisions.Industrial).toBe(industrial);
    expect(decisions['Near-White Metal']).toBe('does not meet');
  });

  it('never counts 5 % residue as the 5 % stain of SP 10, nor 8 % stain as the 10 % residue of SP 14', () => {
    const residue = decisionsOf({ residue: measuredShare(0.04, 0.03, 0.045) });
    expect([residue['Near-White Metal'], residue.Industrial]).toEqual(['does not meet', 'meets']);
    const stain = decisionsOf({ stain: measuredShare(0.5, 0.48, 0.52) });
    expect(stain.Industrial).toBe('meets');
  });

  it('accepts no limit that the interval reaches across and refuses none that it reaches into (JCGM 106)', () => {
    expect(decisionsOf({ residue: measuredShare(0.02, 0.01, 0.1) }).Industrial).toBe('meets');
    expect(decisionsOf({ residue: measuredShare(0.02, 0.01, 0.1001) }).Industrial).toBe('cannot tell');
    expect(decisionsOf({ residue: measuredShare(0.3, 0.1, 0.5) }).Industrial).toBe('cannot tell');
    expect(decisionsOf({ residue: measuredShare(0.3, 0.1001, 0.5) }).Industrial).toBe('does not meet');
  });

  it('lets the worst square decide, not the mean', () => {
    const zone = { residue: measuredShare(0.02, 0.01, 0.03) };
    const worst = { residue: measuredShare(0.25, 0.2, 0.3), stain: NONE };
    expect(decisionsOf(zone).Industrial).toBe('meets');
    expect(decisionsOf(zone, { worst }).Industrial).toBe('does not meet');
    const [first] = gradeSurface(surfaceOf(zone), { worst });
    expect(first.because).toMatch(/^In the worst 76 mm square, residue/);
  });

  it('speaks of two squares where residue and stain decide, which are worst in different places', () => {
    const worst = { residue: measuredShare(0.25, 0.2, 0.3), stain: measuredShare(0.25, 0.2, 0.3) };
    const [whiteMetal, ...rest] = gradeSurface(surfaceOf({}), { worst });
    expect(whiteMetal.because).toMatch(/^In the worst 76 mm square of each, residue .* and stain /);
    expect(rest.find(({ grade }) => grade === 'Sa 2')?.because).toMatch(/^In the worst 76 mm square, residue/);
  });

  it('says so when the zone holds no 76 mm square', () => {
    const [first] = gradeSurface(surfaceOf({}), { worst: null });
    expect(first.because).toContain('holds no 76 mm square');
  });

  it('gives the words of ISO 8501-1 no shares: slight stains and most removed stay open', () => {
    const stained = decisionsOf({ stain: measuredShare(0.03, 0.02, 0.04) });
    expect([stained['Sa 3'], stained['Sa 2 1/2'], stained['Sa 2']]).toEqual(['does not meet', 'cannot tell', 'meets']);
    const left = decisionsOf({ residue: measuredShare(0.2, 0.17, 0.23) });
    expect([left['Sa 2 1/2'], left['Sa 2']]).toEqual(['does not meet', 'cannot tell']);
  });

  it('refuses most removed only where more than half of the whole zone is left', () => {
    const half = { residue: measuredShare(0.7, 0.6, 0.8) };
    expect(decisionsOf(half)['Sa 2']).toBe('does not meet');
    const spot = { residue: measuredShare(0.7, 0.6, 0.8), stain: NONE };
    expect(decisionsOf({ residue: measuredShare(0.1, 0.08, 0.12) }, { worst: spot })['Sa 2']).toBe('cannot tell');
  });

  it('claims of none only that the photo is compatible with it', () => {
    const [white] = gradeSurface(surfaceOf({}), { worst: null });
    expect(white.because).toContain('compatible with none');
    expect(decisionsOf({ residue: measuredShare(0.004, 0, 0.03) })['Sa 3']).toBe('cannot tell');
    expect(decisionsOf({ residue: measuredShare(0.012, 0.007, 0.018) })['Sa 3']).toBe('does not meet');
  });

  it('refuses every grade when the scrape test brought material off', () => {
    const decisions = Object.values(decisionsOf({}, { scrapeTest: 'material came off' }));
    expect(new Set(decisions)).toEqual(new Set(['does not meet']));
  });

  it('never judges a dirtier surface better', () => {
    const order = ['does not meet', 'cannot tell', 'meets'];
    for (const measure of ['residue', 'stain'] as const) {
      let last = decisionsOf({});
      for (let share = 0; share <= 1; share += 0.01) {
        const next = decisionsOf({ [measure]: measuredShare(share, share - 0.02, share + 0.02) });
        for (const { grade } of STANDARD_GRADES) {
          expect(order.indexOf(next[grade])).toBeLessThanOrEqual(order.indexOf(last[grade]));
        }
        last = next;
      }
    }
  });
});
