import { describe, expect, it } from 'vitest';
import { rectangleSum, summedAreaTable } from '../../../../server/measure/raster/summed-area-table.ts';
import { seededRandom } from '../../../support/seeded-random.ts';

describe('a summed-area table', () => {
  it('adds up any rectangle as pixel by pixel', () => {
    const random = seededRandom(6);
    const values = Float64Array.from({ length: 11 * 7 }, () => Math.floor(100 * random()));
    const table = summedAreaTable(11, 7, (i) => values[i]);
    for (let left = 0; left <= 11; left += 2) {
      for (let right = left; right <= 11; right += 3) {
        for (let top = 0; top <= 7; top++) {
          for (let bottom = top; bottom <= 7; bottom += 2) {
            let sum = 0;
            for (let y = top; y < bottom; y++) for (let x = left; x < right; x++) sum += values[y * 11 + x];
            expect(rectangleSum(table, { left, top, right, bottom })).toBe(sum);
          }
        }
      }
    }
  });

  it('has nothing in an empty rectangle or an empty picture', () => {
    const table = summedAreaTable(3, 3, () => 1);
    expect(rectangleSum(table, { left: 1, top: 2, right: 1, bottom: 3 })).toBe(0);
    expect(
      rectangleSum(
        summedAreaTable(0, 0, () => 1),
        { left: 0, top: 0, right: 0, bottom: 0 },
      ),
    ).toBe(0);
  });
});
