import { describe, expect, it } from 'vitest';
import { gaussianBlur } from '../../../../server/measure/raster/gaussian-blur.ts';
import { plane } from '../../../../server/measure/raster/plane.ts';
import type { Plane } from '../../../../server/measure/raster/plane.ts';

const SIDE = 61;
const MIDDLE = 30 * SIDE + 30;

function dot(): Plane {
  const source = plane(SIDE, SIDE);
  source.values[MIDDLE] = 1;
  return source;
}
const sumOf = ({ values }: Plane): number => values.reduce((sum, v) => sum + v, 0);

describe('the Gaussian blur', () => {
  it('spreads a dot as the Gaussian that it is named after', () => {
    const { values } = gaussianBlur(dot(), 2);
    // Density of a two-dimensional normal distribution of variance 4, at 0 and at 3 px: e^(-r^2 / 8) / 8 pi.
    expect(values[MIDDLE]).toBeCloseTo(1 / (8 * Math.PI), 4);
    expect(values[MIDDLE + 3]).toBeCloseTo(Math.exp(-9 / 8) / (8 * Math.PI), 4);
    expect(values[MIDDLE + 3 * SIDE]).toBeCloseTo(values[MIDDLE + 3], 7);
  });

  it('keeps the sum of what lies inside, and an even plane even away from its ends', () => {
    expect(sumOf(gaussianBlur(dot(), 3))).toBeCloseTo(1, 5);
    const even = plane(SIDE, SIDE);
    even.values.fill(4);
    expect(gaussianBlur(even, 3).values[MIDDLE]).toBeCloseTo(4, 5);
    expect(gaussianBlur(even, 3).values[0]).toBeLessThan(2);
  });

  it('adds variances when used twice', () => {
    const twice = gaussianBlur(gaussianBlur(dot(), 3), 4).values;
    const once = gaussianBlur(dot(), 5).values;
    for (const at of [MIDDLE, MIDDLE + 4, MIDDLE + 9 * SIDE]) expect(twice[at]).toBeCloseTo(once[at], 4);
  });

  it('leaves a plane of one pixel with the middle of the Gaussian', () => {
    const one = plane(1, 1);
    one.values[0] = 1;
    expect(gaussianBlur(one, 2).values[0]).toBeCloseTo(1 / (8 * Math.PI), 3);
  });
});
