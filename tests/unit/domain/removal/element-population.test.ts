import { describe, expect, it } from 'vitest';
import {
  ELEMENT_CLASSES,
  endOfRound,
  remainingShare,
  type RoundEnd,
} from '../../../../server/domain/removal/element-population.ts';
import { candidatesFrom, PARAMETER_DIMENSIONS } from '../../../../server/domain/removal/surface-candidates.ts';
import { removalPriorOf } from '../../../../server/domain/removal/removal-prior.ts';

const candidates = candidatesFrom(new Float64Array(PARAMETER_DIMENSIONS), removalPriorOf('mill scale'));
const [shape] = candidates.shape;
const shareAfter = (progress: number): number =>
  remainingShare(candidates, 0, { values: new Float64Array(ELEMENT_CLASSES).fill(progress), start: 0 });

describe('the share of elements that is left', () => {
  it('follows exp(-progress^shape) within a millionth where all classes received the same', () => {
    for (const progress of [1e-6, 0.01, 0.3, 1, 2.5, 6]) {
      expect(Math.abs(shareAfter(progress) - Math.exp(-(progress ** shape)))).toBeLessThan(2e-6);
    }
  });

  it('is everything before any stroke and next to nothing after very many', () => {
    expect(shareAfter(0)).toBeCloseTo(1, 9);
    expect(shareAfter(1000)).toBeLessThan(1e-8);
  });

  it('never grows with progress', () => {
    const shares = Array.from({ length: 400 }, (_, step) => shareAfter(0.02 * step));
    for (const [step, share] of shares.slice(1).entries()) expect(share).toBeLessThanOrEqual(shares[step]);
  });
});

describe('the end of a round', () => {
  const endAfter = (before: number, after: number): RoundEnd => {
    const end: RoundEnd = { share: 1, slope: 0 };
    const filled = (progress: number): Float64Array => new Float64Array(ELEMENT_CLASSES).fill(progress);
    endOfRound(candidates, 0, { before: filled(before), after: filled(after) }, end);
    return end;
  };

  it('leaves the share that remains', () => {
    for (const progress of [0, 1e-6, 0.01, 0.3, 1, 2.5, 6, 1000]) {
      expect(endAfter(0, progress).share).toBeCloseTo(shareAfter(progress), 6);
    }
  });

  it('has the slope of exp(-progress^shape) over the logarithm of the round’s own energy', () => {
    for (const [before, after] of [
      [0, 0.05],
      [0, 0.8],
      [0.4, 1.3],
      [1, 2.5],
    ]) {
      // d exp(-p^s) / d ln(p - b) = -s p^(s - 1) exp(-p^s) (p - b)
      const exact = -shape * after ** (shape - 1) * Math.exp(-(after ** shape)) * (after - before);
      expect(endAfter(before, after).slope).toBeCloseTo(exact, 5);
    }
    expect(endAfter(0, 0).slope).toBe(0);
  });
});
