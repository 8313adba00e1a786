import { describe, expect, it } from 'vitest';
import { niceTicks } from '../../../../client/charts/nice-ticks.ts';

describe('nice ticks', () => {
  it.each([
    [2.9, [0, 1, 2, 3]],
    [4, [0, 1, 2, 3, 4]],
    [0.07, [0, 0.02, 0.04, 0.06, 0.08]],
    [9.3, [0, 2.5, 5, 7.5, 10]],
    [1200, [0, 500, 1000, 1500]],
  ])('hold %d, worked out by hand', (highest, ticks) => {
    expect(niceTicks(highest)).toEqual(ticks);
  });

  it('reach 1 when there is nothing to show', () => {
    expect(Math.max(...niceTicks(0))).toBe(1);
  });

  it('grow by ten with what they show, and always hold it', () => {
    for (let highest = 0.011; highest < 90; highest *= 1.37) {
      const ticks = niceTicks(highest);
      expect(Math.max(...ticks)).toBeGreaterThanOrEqual(highest);
      expect(ticks.length).toBeLessThanOrEqual(6);
      expect(niceTicks(10 * highest)).toEqual(ticks.map((tick) => Number((10 * tick).toPrecision(6))));
    }
  });
});
