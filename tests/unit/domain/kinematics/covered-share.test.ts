import { describe, expect, it } from 'vitest';
import { coveredShare, missedByZigZag } from '../../../../server/domain/kinematics/covered-share.ts';

describe('what a round covers', () => {
  it('is everything from two strokes a point on, and less where a zig-zag opens at its ends', () => {
    expect(coveredShare(2, 1, 0)).toBe(1);
    // Gaps p (1 + u) and p (1 - u) beyond the spot, averaged by hand: (2 - s)^2 / 4 is 1/4 at s = 1 and 0.09 at 1.4.
    expect(missedByZigZag(1)).toBeCloseTo(0.25, 12);
    expect(missedByZigZag(1.4)).toBeCloseTo(0.09, 12);
    expect(coveredShare(1.4, 1, 0)).toBeCloseTo(0.91, 12);
  });

  it('grows with passes, with strokes and with what closes the gaps', () => {
    expect(coveredShare(0.6, 2, 0.5)).toBeCloseTo(1 - (1 - coveredShare(0.6, 1, 0.5)) ** 2, 12);
    expect(coveredShare(1.2, 1, 0.3)).toBeGreaterThan(coveredShare(1.1, 1, 0.3));
    expect(coveredShare(1.2, 1, 0.4)).toBeGreaterThan(coveredShare(1.2, 1, 0.3));
    expect(coveredShare(0.6, 1, 1)).toBe(1);
  });
});
