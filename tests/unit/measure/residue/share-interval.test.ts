import { describe, expect, it } from 'vitest';
import { shareInterval, wilsonInterval } from '../../../../server/measure/residue/share-interval.ts';

describe('Wilson’s interval of a share', () => {
  // R. G. Newcombe, Two-sided confidence intervals for the single proportion, Stat. Med. 17, 857-872 (1998), table I,
  // method 3 (score without continuity correction); from memory. The last two rows: 7/50 as a reference library prints its
  // example (SciPy documentation of proportion_ci), 5/100 recomputed from the formula.
  it.each([
    [81, 263, 0.2553, 0.3662],
    [15, 148, 0.0624, 0.1605],
    [0, 20, 0, 0.1611],
    [1, 29, 0.0061, 0.1718],
    [7, 50, 0.0695, 0.2619],
    [5, 100, 0.0215, 0.1118],
  ])('of %d in %d is %d to %d', (count, trials, low, high) => {
    const interval = wilsonInterval(count / trials, trials);
    expect(interval.low).toBeCloseTo(low, 4);
    expect(interval.high).toBeCloseTo(high, 4);
    expect(interval).toMatchObject({ value: count / trials, coverage: 0.95 });
  });

  it('mirrors: the interval of what is left is the mirror image', () => {
    const some = wilsonInterval(0.13, 77);
    const rest = wilsonInterval(0.87, 77);
    expect(rest.low).toBeCloseTo(1 - some.high, 12);
    expect(rest.high).toBeCloseTo(1 - some.low, 12);
  });

  it('is next to everything for a single trial', () => {
    expect(wilsonInterval(0.5, 1).high - wilsonInterval(0.5, 1).low).toBeGreaterThan(0.79);
  });
});

describe('the interval of a share with a known standard deviation', () => {
  it('is close to plus and minus 1.96 standard deviations in the middle', () => {
    const { low, high } = shareInterval(0.5, 0.01);
    expect(low).toBeCloseTo(0.5 - 0.0196, 3);
    expect(high).toBeCloseTo(0.5 + 0.0196, 3);
  });

  it('leans inwards near the ends and never leaves 0..1', () => {
    const { low, high } = shareInterval(0.01, 0.01);
    expect(high - 0.01).toBeGreaterThan(0.01 - low);
    for (const share of [0, 0.003, 0.5, 1]) {
      for (const sigma of [1e-4, 0.01, 0.2]) {
        const interval = shareInterval(share, sigma);
        expect(interval.low).toBeGreaterThanOrEqual(0);
        expect(interval.high).toBeLessThanOrEqual(1);
        expect(interval.low).toBeLessThanOrEqual(share);
        expect(interval.high).toBeGreaterThanOrEqual(share);
      }
    }
  });

  it('grows with the standard deviation, and has a width at 0 and at 1 too', () => {
    const width = (share: number, sigma: number): number => {
      const { low, high } = shareInterval(share, sigma);
      return high - low;
    };
    for (const share of [0, 0.02, 0.4, 1]) {
      expect(width(share, 0.02)).toBeGreaterThan(width(share, 0.01));
      expect(width(share, 0.01)).toBeGreaterThan(0.005);
    }
  });
});
