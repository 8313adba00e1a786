import { differenceCiede2000 } from 'culori';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ciede2000, ciede2000From, ciede2000Metric } from '../../../../server/measure/colour/ciede2000.ts';
import type { Lab } from '../../../../server/measure/colour/cie-lab.ts';
import { SHARMA_PAIRS } from '../../../support/sharma-pairs.ts';

const lab = (L: number, a: number, b: number): Lab => ({ L, a, b });
const anyLab = fc.record({
  L: fc.double({ min: 0, max: 100, noNaN: true }),
  a: fc.double({ min: -90, max: 90, noNaN: true }),
  b: fc.double({ min: -90, max: 90, noNaN: true }),
});

describe('CIEDE2000', () => {
  // Source: Sharma, Wu, Dalal 2005, supplementary test data (4 decimals).
  it.each(SHARMA_PAIRS.map((pair, index) => [index + 1, pair] as const))(
    'gives the published difference of pair %i both ways round',
    (_number, [L1, a1, b1, L2, a2, b2, published]) => {
      const first = lab(L1, a1, b1);
      const second = lab(L2, a2, b2);
      expect(Math.abs(ciede2000(first, second) - published)).toBeLessThan(5.5e-5);
      expect(Math.abs(ciede2000(second, first) - published)).toBeLessThan(5.5e-5);
      expect(ciede2000From(first)(L2, a2, b2)).toBe(ciede2000(first, second));
    },
  );

  it('agrees with the reference library culori on random colours', () => {
    const theirs = differenceCiede2000();
    fc.assert(
      fc.property(anyLab, anyLab, (first, second) => {
        // Left out: hues half a turn apart, where rounding alone picks the branch in either program.
        const turn = Math.abs(Math.atan2(first.b, first.a) - Math.atan2(second.b, second.a));
        fc.pre(Math.abs(turn - Math.PI) > 1e-6);
        const expected = theirs(
          { mode: 'lab65', l: first.L, a: first.a, b: first.b },
          { mode: 'lab65', l: second.L, a: second.a, b: second.b },
        );
        expect(ciede2000(first, second)).toBeCloseTo(expected, 8);
      }),
      { seed: 45, numRuns: 1000 },
    );
  });

  it('is zero for equal colours, symmetric, and never negative', () => {
    fc.assert(
      fc.property(anyLab, anyLab, (first, second) => {
        expect(ciede2000(first, first)).toBe(0);
        expect(ciede2000(first, second)).toBeCloseTo(ciede2000(second, first), 10);
        expect(ciede2000(first, second)).toBeGreaterThanOrEqual(0);
      }),
      { seed: 46 },
    );
  });

  it('takes the arithmetic mean hue when hues lie exactly half a turn apart, in whatever way rounding falls', () => {
    for (let step = 0; step < 720; step++) {
      const angle = (step * Math.PI) / 360;
      const [a, b] = [20 * Math.cos(angle), 20 * Math.sin(angle)];
      const exact = ciede2000(lab(50, a, b), lab(50, -a, -b));
      const nudged = ciede2000(lab(50, a, b), lab(50, -a * (1 + 1e-12), -b * (1 - 1e-12)));
      expect(nudged).toBeCloseTo(exact, 8);
    }
  });

  it('measures steps along the greys by lightness alone', () => {
    // At L* = 50 the lightness weight is 1 up to the second order.
    expect(ciede2000(lab(49.5, 0, 0), lab(50.5, 0, 0))).toBeCloseTo(1, 3);
    expect(ciede2000(lab(0, 0, 0), lab(100, 0, 0))).toBeCloseTo(100, 6);
  });
});

describe('the local metric of CIEDE2000', () => {
  const direction = fc.tuple(
    fc.double({ min: -1, max: 1, noNaN: true }),
    fc.double({ min: -1, max: 1, noNaN: true }),
    fc.double({ min: -1, max: 1, noNaN: true }),
  );

  function compare(at: Lab, [dL, da, db]: readonly number[], size: number): void {
    const length = Math.hypot(dL, da, db);
    fc.pre(length > 0.1);
    const d = [dL, da, db].map((part) => (part * size) / length);
    const G = ciede2000Metric(at);
    const form = d.reduce(
      (sum, part, row) => sum + part * (G[3 * row] * d[0] + G[3 * row + 1] * d[1] + G[3 * row + 2] * d[2]),
      0,
    );
    const before = lab(at.L - d[0] / 2, at.a - d[1] / 2, at.b - d[2] / 2);
    const after = lab(at.L + d[0] / 2, at.a + d[1] / 2, at.b + d[2] / 2);
    const difference = ciede2000(before, after);
    expect(Math.abs(Math.sqrt(form) - difference) / difference).toBeLessThan(0.01);
  }

  it('predicts small differences within 1 % all over the colours of steel, rust and paint', () => {
    fc.assert(
      fc.property(anyLab, direction, (at, d) => {
        fc.pre(Math.hypot(at.a, at.b) > 2);
        compare(at, d, 0.05);
      }),
      { seed: 47, numRuns: 1000 },
    );
  });

  it('holds near and at the greys, where a colour has no hue', () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 99, noNaN: true }), direction, (L, d) => {
        compare(lab(L, 0, 0), d, 0.02);
      }),
      { seed: 48 },
    );
  });

  it('is symmetric, keeps lightness apart, and is positive definite', () => {
    fc.assert(
      fc.property(anyLab, (at) => {
        const G = ciede2000Metric(at);
        expect([G[1], G[2], G[3], G[6]]).toEqual([0, 0, 0, 0]);
        expect(G[5]).toBe(G[7]);
        expect(G[0]).toBeGreaterThan(0);
        expect(G[4]).toBeGreaterThan(0);
        expect(G[4] * G[8] - G[5] * G[7]).toBeGreaterThan(0);
      }),
      { seed: 49 },
    );
  });

  it('writes into the array it is given', () => {
    const out = new Float64Array(9).fill(7);
    expect(ciede2000Metric(lab(40, 10, 20), out)).toBe(out);
    expect(out[1]).toBe(0);
  });
});
