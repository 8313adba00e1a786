import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { measured, measuredSchema, measuredShare } from '../../server/domain/index.ts';
import type { Measured } from '../../server/domain/index.ts';
import { shareInterval, wilsonInterval } from '../../server/measure/residue/share-interval.ts';
import { shareRemoved } from '../../server/measure/residue/share-removed.ts';

const share = fc.double({ min: 0, max: 1, noNaN: true });
const sigma = fc.double({ min: 1e-5, max: 0.5, noNaN: true });
const isInside = ({ value, low, high }: Measured): boolean => 0 <= low && low <= value && value <= high && high <= 1;

describe('intervals of shares', () => {
  it('hold their value and stay inside 0..1', () => {
    fc.assert(
      fc.property(share, sigma, (p, s) => {
        expect(isInside(shareInterval(p, s))).toBe(true);
        expect(measuredSchema.safeParse(shareInterval(p, s)).success).toBe(true);
      }),
      { seed: 91, numRuns: 1000 },
    );
  });

  it('mirror when share and rest are swapped', () => {
    fc.assert(
      fc.property(share, sigma, (p, s) => {
        const [some, rest] = [shareInterval(p, s), shareInterval(1 - p, s)];
        expect(rest.low).toBeCloseTo(1 - some.high, 9);
        expect(rest.high).toBeCloseTo(1 - some.low, 9);
      }),
      { seed: 92, numRuns: 500 },
    );
  });

  it('shrink with more trials', () => {
    fc.assert(
      fc.property(share, fc.integer({ min: 1, max: 10_000 }), (p, n) => {
        const width = ({ low, high }: Measured): number => high - low;
        expect(width(wilsonInterval(p, 2 * n))).toBeLessThanOrEqual(width(wilsonInterval(p, n)) + 1e-12);
      }),
      { seed: 93, numRuns: 500 },
    );
  });

  it('solve the score equation: at either end the share lies 1.96 standard deviations away', () => {
    // Wilson (1927): (p - x)^2 = z^2 x (1 - x) / n.
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 0.99, noNaN: true }), fc.integer({ min: 2, max: 5000 }), (p, n) => {
        const { low, high } = wilsonInterval(p, n);
        for (const x of [low, high]) {
          expect((p - x) ** 2).toBeCloseTo((1.959963984540054 ** 2 * x * (1 - x)) / n, 8);
        }
      }),
      { seed: 94, numRuns: 500 },
    );
  });
});

describe('the share removed', () => {
  const around = fc
    .tuple(share, fc.double({ min: 0, max: 0.5, noNaN: true }), fc.double({ min: 0, max: 0.5, noNaN: true }))
    .map(([value, below, above]) => measuredShare(value, value - below, value + above));

  it('is absent or an interval inside 0..1 round its value, whatever the two shares are', () => {
    fc.assert(
      fc.property(around, around, (before, after) => {
        const removed = shareRemoved(before, after);
        if (removed !== null) expect(isInside(removed)).toBe(true);
        else expect(before.low).toBeLessThan(0.05);
      }),
      { seed: 95, numRuns: 2000 },
    );
  });

  it('does not shrink when either interval widens', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.3, max: 0.9, noNaN: true }),
        fc.double({ min: 0.05, max: 0.3, noNaN: true }),
        fc.double({ min: 0.001, max: 0.02, noNaN: true }),
        (b, a, half) => {
          const width = (before: number, after: number): number => {
            const removed = shareRemoved(
              measuredShare(b, b - before, b + before),
              measuredShare(a, a - after, a + after),
            );
            return removed === null ? NaN : removed.high - removed.low;
          };
          expect(width(2 * half, half)).toBeGreaterThanOrEqual(width(half, half));
          expect(width(half, 2 * half)).toBeGreaterThanOrEqual(width(half, half));
        },
      ),
      { seed: 96, numRuns: 300 },
    );
  });
});

describe('a measured value', () => {
  it('cannot be made of numbers that are not finite', () => {
    for (const bad of [NaN, Infinity, -Infinity]) {
      expect(() => measured(bad, 0, 1)).toThrow(RangeError);
      expect(() => measured(0, bad, 1)).toThrow(RangeError);
      expect(measuredSchema.safeParse({ value: bad, low: 0, high: 1, coverage: 0.95 }).success).toBe(false);
    }
  });

  it('moves a bound that rounding put on the wrong side onto the value', () => {
    expect(measured(0.3, 0.3000001, 0.2999999)).toEqual({ value: 0.3, low: 0.3, high: 0.3, coverage: 0.95 });
  });
});
