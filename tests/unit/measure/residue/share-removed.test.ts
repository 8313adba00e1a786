import { describe, expect, it } from 'vitest';
import type { Measured } from '../../../../server/domain/index.ts';
import { shareRemoved } from '../../../../server/measure/residue/share-removed.ts';
import { seededNormal, seededRandom } from '../../../support/seeded-random.ts';

const share = (value: number, low: number, high: number): Measured => ({ value, low, high, coverage: 0.95 });

describe('the share removed', () => {
  it('has the interval of Donner and Zou’s ratio, worked by hand', () => {
    // 0.8 (0.7 to 0.9) before, 0.2 (0.1 to 0.3) after: product 0.16; root of 0.0256 - 0.1 x 0.9 x 0.3 x 0.7 = 0.08185;
    // (0.16 -+ 0.08185) / (0.9 x 0.7 or 0.7 x 0.9) = 0.1240 and 0.3839 are left. Donner and Zou (2012), MOVER-R.
    const removed = shareRemoved(share(0.8, 0.7, 0.9), share(0.2, 0.1, 0.3));
    expect(removed?.value).toBeCloseTo(0.75, 12);
    expect(removed?.low).toBeCloseTo(1 - 0.3839, 4);
    expect(removed?.high).toBeCloseTo(1 - 0.124, 4);
  });

  it('covers the truth as often as it says, where both intervals do', () => {
    const random = seededRandom(12);
    const [before, after, sigma] = [0.6, 0.15, 0.02];
    const runs = 2000;
    let covered = 0;
    for (let run = 0; run < runs; run++) {
      const b = before + sigma * seededNormal(random);
      const a = after + sigma * seededNormal(random);
      const around = (x: number): Measured => share(x, x - 1.96 * sigma, x + 1.96 * sigma);
      const removed = shareRemoved(around(b), around(a));
      if (removed !== null && removed.low <= 0.75 && removed.high >= 0.75) covered++;
    }
    // 95 % give or take three standard deviations of 2000 trials.
    expect(covered / runs).toBeGreaterThan(0.935);
    expect(covered / runs).toBeLessThan(0.965);
  });

  it('is everything when nothing is left, and nothing when nothing changed', () => {
    expect(shareRemoved(share(0.5, 0.48, 0.52), share(0, 0, 0.01))?.value).toBe(1);
    const same = shareRemoved(share(0.5, 0.48, 0.52), share(0.5, 0.48, 0.52));
    expect(same?.value).toBe(0);
    expect(same?.high).toBeGreaterThan(0.02);
  });

  it('shrinks as more is left', () => {
    const before = share(0.7, 0.66, 0.74);
    const removed = [0.05, 0.2, 0.4].map(
      (left) => shareRemoved(before, share(left, left - 0.03, left + 0.03))?.value ?? NaN,
    );
    expect(removed[0]).toBeGreaterThan(removed[1]);
    expect(removed[1]).toBeGreaterThan(removed[2]);
  });

  it('is absent, and not 0, where there was next to nothing to remove', () => {
    expect(shareRemoved(share(0.02, 0.005, 0.04), share(0.01, 0, 0.02))).toBeNull();
  });

  it('holds a sane interval when the before-residue is barely known', () => {
    const removed = shareRemoved(share(0.1, 0.03, 0.25), share(0.05, 0.02, 0.09));
    expect(removed?.low).toBeGreaterThanOrEqual(0);
    expect(removed?.high).toBeLessThanOrEqual(1);
    expect(removed?.low).toBeLessThanOrEqual(0.5);
    expect(removed?.high).toBeGreaterThanOrEqual(0.5);
  });
});
