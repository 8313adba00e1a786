import type { SurfacePoint } from '../../domain/index.ts';
import type { LocatedCard } from '../card/locate-card.ts';
import { homography, jacobianAt } from './homography.ts';
import { toPhotoPixel } from './photo-map.ts';
import { surfacePoint } from '../../domain/index.ts';

const RELATIVE_STEP = 1e-6;

/**
 * Relative standard deviation of the local scale (mm per pixel) at a point of the plane: the covariance of the plane map
 * carried to that point, and what is unknown about the lens, both of which grow with the distance from the card.
 */
export function scaleUncertainty(located: LocatedCard, at: SurfacePoint): number {
  const { toIdeal } = located.map;
  const gradient = Float64Array.from({ length: 8 }, (_, k) => {
    const step = RELATIVE_STEP * Math.max(Math.abs(toIdeal.elements[k]), 1e-9);
    return (logScale(located, at, k, step) - logScale(located, at, k, -step)) / (2 * step);
  });
  let variance = 0;
  for (let i = 0; i < 8; i++) {
    for (let j = 0; j < 8; j++) variance += gradient[i] * located.covariance[i * 8 + j] * gradient[j];
  }
  return Math.hypot(Math.sqrt(Math.max(0, variance)), lensPart(located, at));
}

function logScale({ map }: LocatedCard, at: SurfacePoint, element: number, step: number): number {
  const moved = homography(map.toIdeal.elements.map((e, k) => (k === element ? e + step : e)));
  const [a, b, c, d] = jacobianAt(moved, at[0], at[1]);
  return Math.log(Math.abs(a * d - b * c)) / 2;
}

/** The area magnification of d (1 + bend d^2) is 1 + 4 bend d^2; what the card itself shows is already in the plane map. */
function lensPart({ map, bendSigma, card }: LocatedCard, at: SurfacePoint): number {
  const radiusSquared = (point: SurfacePoint): number => {
    const [u, v] = toPhotoPixel(map, point);
    const { centrePx, halfDiagonalPx } = map.lens;
    return ((u - centrePx[0]) ** 2 + (v - centrePx[1]) ** 2) / halfDiagonalPx ** 2;
  };
  const middle = surfacePoint(card.widthMm / 2, card.heightMm / 2);
  return 2 * bendSigma * Math.abs(radiusSquared(at) - radiusSquared(middle));
}
