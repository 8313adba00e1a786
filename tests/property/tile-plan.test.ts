import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { tileSpans } from '../../server/adapters/segmenter/tile-plan.ts';

const plans = fc.record({
  side: fc.integer({ min: 1, max: 6000 }),
  most: fc.integer({ min: 5, max: 30 }).map((n) => 32 * n),
  margin: fc.integer({ min: 0, max: 60 }),
});

describe('cutting a side of the picture into tiles', () => {
  it('keeps every pixel exactly once, in order', () => {
    fc.assert(
      fc.property(plans, ({ side, most, margin }) => {
        let next = 0;
        for (const { keepFrom, keepTo } of tileSpans(side, most, margin)) {
          expect(keepFrom).toBe(next);
          expect(keepTo).toBeGreaterThan(keepFrom);
          next = keepTo;
        }
        expect(next).toBe(side);
      }),
      { seed: 71, numRuns: 400 },
    );
  });

  it('shows the network every kept pixel, and its margin wherever the picture has one', () => {
    fc.assert(
      fc.property(plans, ({ side, most, margin }) => {
        for (const { from, length, keepFrom, keepTo } of tileSpans(side, most, margin)) {
          expect(from).toBeGreaterThanOrEqual(0);
          expect(from).toBeLessThanOrEqual(Math.max(0, keepFrom - margin));
          expect(from + length).toBeGreaterThanOrEqual(Math.min(side, keepTo + margin));
        }
      }),
      { seed: 72, numRuns: 400 },
    );
  });

  it('gives tiles that the network can halve five times and that stay near the most allowed', () => {
    fc.assert(
      fc.property(plans, ({ side, most, margin }) => {
        for (const { length } of tileSpans(side, most, margin)) {
          expect(length % 32).toBe(0);
          expect(length).toBeLessThanOrEqual(most);
        }
      }),
      { seed: 73, numRuns: 400 },
    );
  });
});
