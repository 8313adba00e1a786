import { describe, expect, it } from 'vitest';
import { surfacePoint } from '../../../../server/domain/index.ts';
import type { PhotoPoint, SurfacePoint } from '../../../../server/domain/index.ts';
import {
  homography,
  invertHomography,
  jacobianAt,
  principalStretches,
  project,
  projectiveDepth,
} from '../../../../server/measure/geometry/homography.ts';

const map = homography<SurfacePoint, PhotoPoint>([2, 0, 1, 0, 3, -1, 0.1, 0, 1]);

describe('a plane homography', () => {
  it('divides by the projective depth: hand-computed point', () => {
    // (2 * 5 + 1, 3 * 2 - 1) / (0.1 * 5 + 1) = (11, 5) / 1.5
    const [x, y] = project(map, surfacePoint(5, 2));
    expect(x).toBeCloseTo(22 / 3, 12);
    expect(y).toBeCloseTo(10 / 3, 12);
    expect(projectiveDepth(map, surfacePoint(5, 2))).toBeCloseTo(1.5, 12);
  });

  it('has a depth of 0 on its horizon and less beyond it', () => {
    expect(projectiveDepth(map, surfacePoint(-10, 4))).toBeCloseTo(0, 12);
    expect(projectiveDepth(map, surfacePoint(-11, 4))).toBeLessThan(0);
  });

  it('does not change when all elements are scaled', () => {
    const scaled = homography<SurfacePoint, PhotoPoint>(map.elements.map((e) => -4 * e));
    map.elements.forEach((e, k) => {
      expect(scaled.elements[k]).toBeCloseTo(e, 12);
    });
  });

  it('refuses elements that are not finite, too few of them, and a last element of 0', () => {
    expect(() => homography([1, 0, 0, 0, 1, 0, 0, 0, 0])).toThrow(RangeError);
    expect(() => homography([1, 0, 0, 0, NaN, 0, 0, 0, 1])).toThrow(RangeError);
    expect(() => homography([1, 0, 0, 0, 1, 0, 0, 0])).toThrow(RangeError);
  });

  it('is undone by its inverse', () => {
    const back = invertHomography(map);
    for (const [x, y] of [
      [0, 0],
      [12, -7],
      [150, 90],
    ] as const) {
      const [u, v] = project(back, project(map, surfacePoint(x, y)));
      expect(u).toBeCloseTo(x, 9);
      expect(v).toBeCloseTo(y, 9);
    }
  });

  it('cannot be inverted when it folds the plane onto a line', () => {
    expect(() => invertHomography(homography([1, 1, 0, 1, 1, 0, 0, 0, 1]))).toThrow(RangeError);
  });

  it('has the derivative that small steps show', () => {
    const [a, b, c, d] = jacobianAt(map, 5, 2);
    const h = 1e-5;
    const along = (dx: number, dy: number): PhotoPoint => project(map, surfacePoint(5 + dx, 2 + dy));
    const [right, left, down, up] = [along(h, 0), along(-h, 0), along(0, h), along(0, -h)];
    expect(a).toBeCloseTo((right[0] - left[0]) / (2 * h), 6);
    expect(b).toBeCloseTo((down[0] - up[0]) / (2 * h), 6);
    expect(c).toBeCloseTo((right[1] - left[1]) / (2 * h), 6);
    expect(d).toBeCloseTo((down[1] - up[1]) / (2 * h), 6);
  });
});

describe('principal stretches', () => {
  it('are the golden ratio and its inverse for the unit shear', () => {
    // Singular values of [[1, 1], [0, 1]] are (sqrt 5 +- 1) / 2: eigenvalues of [[1, 1], [1, 2]] are (3 +- sqrt 5) / 2.
    const [large, small] = principalStretches([1, 1, 0, 1]);
    expect(large).toBeCloseTo((Math.sqrt(5) + 1) / 2, 12);
    expect(small).toBeCloseTo((Math.sqrt(5) - 1) / 2, 12);
  });

  it('do not change when the plane is turned before or after', () => {
    const [c, s] = [Math.cos(0.7), Math.sin(0.7)];
    const stretch = [3, 0, 0, 2] as const;
    const turned = [c * stretch[0], -s * stretch[3], s * stretch[0], c * stretch[3]] as const;
    expect(principalStretches(turned)[0]).toBeCloseTo(3, 12);
    expect(principalStretches(turned)[1]).toBeCloseTo(2, 12);
  });

  it('end at 0 for a derivative that flattens', () => {
    expect(principalStretches([1, 2, 2, 4])[1]).toBeCloseTo(0, 6);
  });
});
