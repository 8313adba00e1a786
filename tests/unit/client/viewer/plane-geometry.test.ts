import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chainMaps, fitSimilarity, invertMap, mapPoint } from '../../../../client/viewer/plane-geometry.ts';
import type { Point } from '../../../../client/viewer/plane-geometry.ts';
import { fitHomography } from '../../../../server/measure/geometry/fit-homography.ts';
import { homography, project } from '../../../../server/measure/geometry/homography.ts';
import { photoPoint, surfacePoint } from '../../../../server/domain/spaces.ts';

const SQUARE: readonly Point[] = [
  [0, 0],
  [1, 0],
  [1, 1],
  [0, 1],
];

const closeTo = (actual: Point | null, expected: Point): void => {
  expect(actual).not.toBeNull();
  expect(Math.hypot((actual?.[0] ?? NaN) - expected[0], (actual?.[1] ?? NaN) - expected[1])).toBeLessThan(1e-6);
};

/** The map of the unit square to four corners, by the measuring core. */
function fittedMap(corners: readonly Point[]): readonly number[] {
  const pairs = SQUARE.map(([x, y], i) => ({ from: surfacePoint(x, y), to: photoPoint(corners[i][0], corners[i][1]) }));
  const fit = fitHomography(pairs);
  if (fit === null) throw new Error('Expected a map');
  return fit.map.elements;
}

/** Corners of a quadrilateral without an overhanging corner, as a tilted photo shows a rectangle. */
const quadrilateral = fc
  .tuple(...Array.from({ length: 8 }, () => fc.double({ min: -0.2, max: 0.2, noNaN: true })))
  .map((wobble) => SQUARE.map(([x, y], i): Point => [400 * (x + wobble[2 * i]), 300 * (y + wobble[2 * i + 1])]));

describe('plane maps', () => {
  it('take the unit square to a trapezium as worked out by hand', () => {
    // By hand: (x, y) -> (2x, y) / (1 + y) takes the square to (0,0) (2,0) (1,1/2) (0,1/2).
    const map = [2, 0, 0, 0, 1, 0, 0, 1, 1];
    const trapezium = [
      [0, 0],
      [2, 0],
      [1, 0.5],
      [0, 0.5],
    ] as const;
    SQUARE.forEach((corner, index) => {
      closeTo(mapPoint(map, corner), trapezium[index]);
    });
    closeTo(mapPoint(map, [0.5, 1]), [0.5, 0.5]);
  });

  it('agree with the homographies of the measuring core', () => {
    const elements = [6.04, 0.675, 142.4, -0.022, 6.233, 523.5, 0.000144, 0.00047, 1];
    const [u, v] = project(homography(elements), photoPoint(120, 40));
    closeTo(mapPoint(elements, [120, 40]), [u, v]);
  });

  it('take corners to corners, and back again by the inverse', () => {
    fc.assert(
      fc.property(quadrilateral, (corners) => {
        const map = fittedMap(corners);
        const back = invertMap(map);
        if (back === null) throw new Error('Expected a map');
        SQUARE.forEach((corner, index) => {
          closeTo(mapPoint(map, corner), corners[index]);
          closeTo(mapPoint(back, corners[index]), corner);
        });
        closeTo(mapPoint(chainMaps(map, back), [0.3, 0.6]), [0.3, 0.6]);
      }),
    );
  });

  it('are refused for points behind the horizon and where they fold the plane onto a line', () => {
    expect(mapPoint([1, 0, 0, 0, 1, 0, 0, -1, 1], [0, 2])).toBeNull();
    expect(invertMap([1, 2, 0, 2, 4, 0, 0, 0, 1])).toBeNull();
  });
});

describe('fitSimilarity', () => {
  it('recovers a known turn, zoom and shift', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -3, max: 3, noNaN: true }),
        fc.double({ min: 0.2, max: 5, noNaN: true }),
        (turn, zoom) => {
          const [c, s] = [zoom * Math.cos(turn), zoom * Math.sin(turn)];
          const turned = SQUARE.map(([x, y]): Point => [c * x - s * y + 7, s * x + c * y - 3]);
          const fit = fitSimilarity(SQUARE, turned);
          expect(fit?.zoom).toBeCloseTo(zoom, 9);
          expect(fit?.turnRadians).toBeCloseTo(turn, 9);
          closeTo(fit?.apply([2, 5]) ?? null, [c * 2 - s * 5 + 7, s * 2 + c * 5 - 3]);
        },
      ),
    );
  });

  it('has no answer for points that coincide', () => {
    expect(
      fitSimilarity(
        [
          [1, 1],
          [1, 1],
        ],
        [
          [0, 0],
          [1, 0],
        ],
      ),
    ).toBeNull();
  });
});
