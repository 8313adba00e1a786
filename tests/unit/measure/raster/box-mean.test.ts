import { describe, expect, it } from 'vitest';
import { boxCount, boxMean, boxSum } from '../../../../server/measure/raster/box-mean.ts';
import { byteMask, plane } from '../../../../server/measure/raster/plane.ts';
import type { ByteMask, Plane } from '../../../../server/measure/raster/plane.ts';
import { seededRandom } from '../../../support/seeded-random.ts';

const [WIDTH, HEIGHT] = [13, 9];
const random = seededRandom(2);
const source = plane(WIDTH, HEIGHT);
const mask = byteMask(WIDTH, HEIGHT);
for (let i = 0; i < WIDTH * HEIGHT; i++) {
  source.values[i] = 100 * random();
  mask.values[i] = random() < 0.6 ? 1 : 0;
}

/** The same by looking at every pixel of every window. */
function slowly(from: Plane, counted: ByteMask, radius: number, at: number): { sum: number; count: number } {
  const [column, row] = [at % WIDTH, Math.floor(at / WIDTH)];
  let sum = 0;
  let count = 0;
  for (let y = Math.max(0, row - radius); y <= Math.min(HEIGHT - 1, row + radius); y++) {
    for (let x = Math.max(0, column - radius); x <= Math.min(WIDTH - 1, column + radius); x++) {
      if (counted.values[y * WIDTH + x] === 0) continue;
      sum += from.values[y * WIDTH + x];
      count++;
    }
  }
  return { sum, count };
}

describe('running means over a square window', () => {
  it.each([0, 1, 3, 20])('are what looking at every pixel gives, radius %d', (radius) => {
    const mean = boxMean(source, mask, radius);
    const counts = boxCount(mask, radius);
    for (let at = 0; at < WIDTH * HEIGHT; at++) {
      const { sum, count } = slowly(source, mask, radius, at);
      expect(counts.values[at]).toBe(count);
      expect(mean.values[at]).toBeCloseTo(count === 0 ? 0 : sum / count, 3);
    }
  });

  it('leave a level plane level up to its rim', () => {
    const level = plane(WIDTH, HEIGHT);
    level.values.fill(7);
    const all = byteMask(WIDTH, HEIGHT);
    all.values.fill(9);
    for (const value of boxMean(level, all, 4).values) expect(value).toBeCloseTo(7, 5);
  });

  it('are 0 where nothing counts', () => {
    expect(Math.max(...boxMean(source, byteMask(WIDTH, HEIGHT), 2).values)).toBe(0);
  });

  it('keep the total when the window spans everything', () => {
    const total = source.values.reduce((sum, v) => sum + v, 0);
    expect(boxSum(source, 50).values[40]).toBeCloseTo(total, 2);
  });
});
