import { describe, expect, it } from 'vitest';
import { surfacePoint } from '../../../../server/domain/index.ts';
import type { SurfacePoint } from '../../../../server/domain/index.ts';
import {
  clipToRectangle,
  crossingEdges,
  polygonArea,
  polygonBounds,
  polygonCentroid,
} from '../../../../server/measure/geometry/polygon.ts';

const points = (...xy: [number, number][]): SurfacePoint[] => xy.map(([x, y]) => surfacePoint(x, y));
const triangle = points([0, 0], [4, 0], [0, 3]);
/** A 4 x 4 square without its 2 x 2 upper right quarter. */
const corner = points([0, 0], [2, 0], [2, 2], [4, 2], [4, 4], [0, 4]);

describe('polygon area and centroid', () => {
  it('are half of base times height, and the mean of the corners, for a triangle', () => {
    expect(polygonArea(triangle)).toBe(6);
    const [x, y] = polygonCentroid(triangle);
    expect(x).toBeCloseTo(4 / 3, 12);
    expect(y).toBeCloseTo(1, 12);
  });

  it('add up over the parts of an L', () => {
    expect(polygonArea(corner)).toBe(12);
    // Squares of area 4 centred at (1, 1), (1, 3) and (3, 3).
    const [x, y] = polygonCentroid(corner);
    expect(x).toBeCloseTo(5 / 3, 12);
    expect(y).toBeCloseTo(7 / 3, 12);
  });

  it('do not depend on the direction of travel', () => {
    const back = [...corner].reverse();
    expect(polygonArea(back)).toBe(12);
    expect(polygonCentroid(back)[0]).toBeCloseTo(polygonCentroid(corner)[0], 12);
  });

  it('are 0 for points on a line', () => {
    expect(polygonArea(points([0, 0], [1, 1], [2, 2]))).toBe(0);
  });
});

describe('crossing edges', () => {
  it('are none in simple polygons, concave ones included', () => {
    expect(crossingEdges(triangle)).toBeNull();
    expect(crossingEdges(corner)).toBeNull();
  });

  it('are the first pair that meets', () => {
    expect(crossingEdges(points([0, 0], [2, 2], [2, 0], [0, 2]))).toEqual([0, 2]);
  });

  it('count when a corner only touches another edge', () => {
    expect(crossingEdges(points([0, 0], [4, 0], [4, 4], [2, 0], [0, 4]))).not.toBeNull();
  });
});

describe('clipping to a rectangle', () => {
  it('keeps what is inside as it is', () => {
    expect(clipToRectangle(corner, { x0: -1, y0: -1, x1: 5, y1: 5 })).toEqual(corner);
  });

  it('leaves nothing of what is outside', () => {
    expect(clipToRectangle(corner, { x0: 10, y0: 10, x1: 12, y1: 12 })).toEqual([]);
  });

  it('cuts a triangle to a hand-computed area', () => {
    // x from 0 to 2 under the slope 3 - 3x/4: 6 - 1.5.
    expect(polygonArea(clipToRectangle(triangle, { x0: 0, y0: 0, x1: 2, y1: 3 }))).toBeCloseTo(4.5, 12);
  });

  it('splits the area between the two sides of a cut', () => {
    const left = clipToRectangle(corner, { x0: -1, y0: -1, x1: 1.3, y1: 9 });
    const right = clipToRectangle(corner, { x0: 1.3, y0: -1, x1: 9, y1: 9 });
    expect(polygonArea(left) + polygonArea(right)).toBeCloseTo(12, 12);
  });
});

it('bounds are the least and the largest coordinates', () => {
  expect(polygonBounds(points([3, -2], [7, 5], [-1, 4]))).toEqual({ x0: -1, y0: -2, x1: 7, y1: 5 });
});
