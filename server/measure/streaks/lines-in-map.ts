import type { PhotoPoint, SurfacePoint } from '../../domain/index.ts';
import { homography, invertHomography, project } from '../geometry/homography.ts';

const tenth = (value: number): number => Math.round(value * 10) / 10;

/**
 * Lines in the plane of the surface as points of a picture of it, to a tenth of the picture's pixel.
 *
 * @param planeFromMap from the picture's pixels to the plane, row-major 3 x 3
 */
export function linesInMap(
  lines: readonly (readonly SurfacePoint[])[],
  planeFromMap: readonly number[],
): [number, number][][] {
  const toMap = invertHomography(homography<PhotoPoint, SurfacePoint>(planeFromMap));
  return lines.map((line) =>
    line.map((point) => {
      const [x, y] = project(toMap, point);
      return [tenth(x), tenth(y)];
    }),
  );
}
