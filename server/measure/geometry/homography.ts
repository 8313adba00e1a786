import { adjugate } from '../../domain/index.ts';
import type { Homography, PhotoPoint, SurfacePoint } from '../../domain/index.ts';

type Point = PhotoPoint | SurfacePoint;
type Elements = Homography<Point, Point>['elements'];

/**
 * A homography from nine row-major elements, scaled so that the last is 1.
 * @throws RangeError when an element is not finite or the last is 0
 */
export function homography<From extends Point, To extends Point>(elements: readonly number[]): Homography<From, To> {
  const last = elements[8];
  const scaled = elements.map((e) => e / last);
  if (scaled.length !== 9 || !scaled.every(Number.isFinite)) {
    throw new RangeError(`Expected nine finite elements, the last not 0, but received ${elements.join(', ')}`);
  }
  return { elements: scaled as unknown as Elements };
}

/** Maps (x, y) and writes the two coordinates and the projective depth into `out` (depth <= 0 lies behind the horizon). */
export function projectInto(map: Homography<Point, Point>, x: number, y: number, out: Float64Array): void {
  const h = map.elements;
  const depth = h[6] * x + h[7] * y + h[8];
  out[0] = (h[0] * x + h[1] * y + h[2]) / depth;
  out[1] = (h[3] * x + h[4] * y + h[5]) / depth;
  out[2] = depth;
}

export function project<From extends Point, To extends Point>(map: Homography<From, To>, point: From): To {
  const out = new Float64Array(3);
  projectInto(map, point[0], point[1], out);
  return [out[0], out[1]] as unknown as To;
}

/** Projective depth of a point, 1 at the origin of `From`; 0 or less lies on or beyond the horizon. */
export function projectiveDepth<From extends Point, To extends Point>(map: Homography<From, To>, point: From): number {
  const h = map.elements;
  return h[6] * point[0] + h[7] * point[1] + h[8];
}

/** @throws RangeError for a map that folds the plane onto a line */
export function invertHomography<From extends Point, To extends Point>(
  map: Homography<From, To>,
): Homography<To, From> {
  return homography(adjugate(map.elements));
}

/**
 * Local derivative of the map at (x, y): [du/dx, du/dy, dv/dx, dv/dy], in units of To per unit of From.
 */
export function jacobianAt(map: Homography<Point, Point>, x: number, y: number): [number, number, number, number] {
  const h = map.elements;
  const depth = h[6] * x + h[7] * y + h[8];
  const u = (h[0] * x + h[1] * y + h[2]) / depth;
  const v = (h[3] * x + h[4] * y + h[5]) / depth;
  return [(h[0] - u * h[6]) / depth, (h[1] - u * h[7]) / depth, (h[3] - v * h[6]) / depth, (h[4] - v * h[7]) / depth];
}

/** Principal stretches of a 2 x 2 derivative, larger first. */
export function principalStretches([a, b, c, d]: readonly [number, number, number, number]): [number, number] {
  const sum = (a * a + b * b + c * c + d * d) / 2;
  const determinant = a * d - b * c;
  const spread = Math.sqrt(Math.max(0, sum * sum - determinant * determinant));
  return [Math.sqrt(sum + spread), Math.sqrt(Math.max(0, sum - spread))];
}
