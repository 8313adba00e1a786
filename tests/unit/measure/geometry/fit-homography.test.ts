import { describe, expect, it } from 'vitest';
import { photoPoint, surfacePoint } from '../../../../server/domain/index.ts';
import type { PhotoPoint, SurfacePoint } from '../../../../server/domain/index.ts';
import { fitHomography } from '../../../../server/measure/geometry/fit-homography.ts';
import type { PointPair } from '../../../../server/measure/geometry/fit-homography.ts';
import { homography, project } from '../../../../server/measure/geometry/homography.ts';
import { seededNormal, seededRandom } from '../../../support/seeded-random.ts';

type Pair = PointPair<SurfacePoint, PhotoPoint>;
type Vertex = readonly [number, number];

const UNIT_SQUARE: Vertex[] = [
  [0, 0],
  [1, 0],
  [1, 1],
  [0, 1],
];
const pairUp = (from: readonly Vertex[], to: readonly Vertex[]): Pair[] =>
  from.map(([x, y], i) => ({ from: surfacePoint(x, y), to: photoPoint(to[i][0], to[i][1]) }));

const tilted = homography<SurfacePoint, PhotoPoint>([6.2, 0.4, 310, -0.3, 5.9, 240, 0.0004, 0.0007, 1]);
const lattice: Vertex[] = Array.from({ length: 20 }, (_, i) => [38 * (i % 5), 30 * Math.floor(i / 5)]);
const seen = (points: readonly Vertex[]): Vertex[] =>
  points.map(([x, y]) => {
    const [u, v] = project(tilted, surfacePoint(x, y));
    return [u, v];
  });

describe('a homography fitted to points', () => {
  it('takes the unit square to a quadrilateral as the closed form does', () => {
    // P. S. Heckbert, Fundamentals of Texture Mapping and Image Warping (1989), 2.2.3, square to quadrilateral, worked by
    // hand for (0,0) (4,0) (3,2) (0,3): g = 0.8, h = 0.6, a = 7.2, e = 4.8, the rest 0.
    const fit = fitHomography(
      pairUp(UNIT_SQUARE, [
        [0, 0],
        [4, 0],
        [3, 2],
        [0, 3],
      ]),
    );
    const expected = [7.2, 0, 0, 0, 4.8, 0, 0.8, 0.6, 1];
    expected.forEach((e, k) => {
      expect(fit?.map.elements[k]).toBeCloseTo(e, 9);
    });
    expect(fit?.rms).toBeLessThan(1e-9);
  });

  it('recovers a known map from twenty points', () => {
    const fit = fitHomography(pairUp(lattice, seen(lattice)));
    tilted.elements.forEach((e, k) => {
      expect(fit?.map.elements[k]).toBeCloseTo(e, 7);
    });
  });

  it('is the least-squares one: any small change of an element makes the distances larger', () => {
    const random = seededRandom(3);
    const noisy = seen(lattice).map(([u, v]): Vertex => [u + seededNormal(random), v + seededNormal(random)]);
    const fit = fitHomography(pairUp(lattice, noisy));
    if (fit === null) throw new Error('expected a fit');
    const cost = (elements: readonly number[]): number => {
      const moved = homography<SurfacePoint, PhotoPoint>(elements);
      return lattice.reduce((sum, [x, y], i) => {
        const [u, v] = project(moved, surfacePoint(x, y));
        return sum + (u - noisy[i][0]) ** 2 + (v - noisy[i][1]) ** 2;
      }, 0);
    };
    const best = cost(fit.map.elements);
    expect(Math.sqrt(best / lattice.length)).toBeCloseTo(fit.rms, 9);
    for (let k = 0; k < 8; k++) {
      for (const sign of [-1, 1]) {
        const moved = fit.map.elements.map((e, i) => (i === k ? e * (1 + sign * 1e-3) : e));
        expect(cost(moved)).toBeGreaterThan(best);
      }
    }
  });

  it('does not depend on the order of the points', () => {
    const pairs = pairUp(lattice, seen(lattice));
    const forwards = fitHomography(pairs);
    const backwards = fitHomography([...pairs].reverse());
    forwards?.map.elements.forEach((e, k) => {
      expect(backwards?.map.elements[k]).toBeCloseTo(e, 8);
    });
  });

  it('moves with the photo: shifted and enlarged pixels give a shifted and enlarged map', () => {
    const moved = seen(lattice).map(([u, v]): Vertex => [3 * u + 1000, 3 * v - 500]);
    const fit = fitHomography(pairUp(lattice, moved));
    const plain = project(tilted, surfacePoint(61, 47));
    const [u, v] = fit === null ? [NaN, NaN] : project(fit.map, surfacePoint(61, 47));
    expect(u).toBeCloseTo(3 * plain[0] + 1000, 6);
    expect(v).toBeCloseTo(3 * plain[1] - 500, 6);
  });

  it('says how uncertain its elements are, as repeated noise shows', () => {
    const random = seededRandom(11);
    const clean = seen(lattice);
    const exact = fitHomography(pairUp(lattice, clean));
    if (exact === null) throw new Error('expected a fit');
    const sigma = 0.2;
    const squares = new Float64Array(8);
    const runs = 250;
    for (let run = 0; run < runs; run++) {
      const noisy = clean.map(([u, v]): Vertex => [u + sigma * seededNormal(random), v + sigma * seededNormal(random)]);
      const fit = fitHomography(pairUp(lattice, noisy));
      for (let k = 0; k < 8; k++) {
        squares[k] += ((fit?.map.elements[k] ?? NaN) - exact.map.elements[k]) ** 2 / runs;
      }
    }
    for (let k = 0; k < 8; k++) {
      const ratio = Math.sqrt(squares[k]) / (sigma * Math.sqrt(exact.unitCovariance[k * 9]));
      // The scatter of a standard deviation over 250 runs is 4.5 %.
      expect(ratio).toBeGreaterThan(0.85);
      expect(ratio).toBeLessThan(1.15);
    }
  });

  it('is null for fewer than four points, three of four on a line, and coincident points', () => {
    const quad: Vertex[] = [
      [0, 0],
      [4, 0],
      [3, 2],
      [0, 3],
    ];
    expect(fitHomography(pairUp(UNIT_SQUARE.slice(0, 3), quad.slice(0, 3)))).toBeNull();
    const onLine: Vertex[] = [
      [0, 0],
      [1, 0],
      [2, 0],
      [0, 1],
    ];
    expect(fitHomography(pairUp(onLine, quad))).toBeNull();
    const same: Vertex[] = [
      [2, 2],
      [2, 2],
      [2, 2],
      [2, 2],
    ];
    expect(fitHomography(pairUp(same, quad))).toBeNull();
    expect(fitHomography(pairUp(UNIT_SQUARE, same))).toBeNull();
  });
});
