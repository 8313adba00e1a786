import { describe, expect, it } from 'vitest';
import { ELEMENT_CLASSES, remainingShare } from '../../../../server/domain/removal/element-population.ts';
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
