import type { Point } from './plane-geometry.ts';

/** x' = a x + c y + e, y' = b x + d y + f: the order of SVG and CSS. */
export type Affine = readonly [a: number, b: number, c: number, d: number, e: number, f: number];

export const applyAffine = ([a, b, c, d, e, f]: Affine, [x, y]: Point): Point => [a * x + c * y + e, b * x + d * y + f];

/** @throws RangeError for a map that folds the plane */
export function invertAffine([a, b, c, d, e, f]: Affine): Affine {
  const determinant = a * d - b * c;
  if (determinant === 0 || !Number.isFinite(determinant)) {
    throw new RangeError('Expected an affine map with an inverse');
  }
  const [ia, ib, ic, id] = [d / determinant, -b / determinant, -c / determinant, a / determinant];
  return [ia, ib, ic, id, -(ia * e + ic * f), -(ib * e + id * f)];
}

/** First `first`, then `second`. */
export function chainAffine(first: Affine, second: Affine): Affine {
  const [e, f] = applyAffine(second, [first[4], first[5]]);
  const [sa, sb, sc, sd] = second;
  const [a, b, c, d] = first;
  return [sa * a + sc * b, sb * a + sd * b, sa * c + sc * d, sb * c + sd * d, e, f];
}

export const cssMatrix = (map: Affine): string => `matrix(${map.join(',')})`;

/** How many units of the target one unit of the source becomes: square root of the area's growth. */
export const zoomOf = ([a, b, c, d]: Affine): number => Math.sqrt(Math.abs(a * d - b * c));
