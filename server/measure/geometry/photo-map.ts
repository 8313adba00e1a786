import { photoPoint, surfacePoint } from '../../domain/index.ts';
import type { Homography, PhotoPoint, SurfacePoint } from '../../domain/index.ts';
import { homography, invertHomography, project, projectiveDepth } from './homography.ts';

/**
 * Radial distortion that the phone's own correction left: a point at distance d from the centre (in half diagonals of the
 * photo) stands where an ideal lens would have put it at d (1 + bend d^2). First term of the usual radial model.
 * Source: [HARTLEY2004], section 7.4.
 */
export interface Lens {
  readonly bend: number;
  readonly centrePx: readonly [x: number, y: number];
  readonly halfDiagonalPx: number;
}

/** How the surface plane is seen: a plane homography to ideal pixels, then the lens. */
export interface PhotoMap {
  readonly toIdeal: Homography<SurfacePoint, PhotoPoint>;
  /** Scaled so that its depth is positive below the horizon, wherever the photo's first pixel looks. */
  readonly fromIdeal: Homography<PhotoPoint, SurfacePoint>;
  readonly lens: Lens;
}

export const straightLens = (photo: { readonly width: number; readonly height: number }): Lens => ({
  bend: 0,
  centrePx: [photo.width / 2, photo.height / 2],
  halfDiagonalPx: Math.hypot(photo.width, photo.height) / 2,
});

export const photoMap = (toIdeal: Homography<SurfacePoint, PhotoPoint>, lens: Lens): PhotoMap => ({
  toIdeal,
  fromIdeal: positiveOnPlane(invertHomography(toIdeal), project(toIdeal, surfacePoint(0, 0))),
  lens,
});

/** @param seen a pixel that surely shows the plane: the origin of the card frame lies in front of the camera */
function positiveOnPlane(
  map: Homography<PhotoPoint, SurfacePoint>,
  seen: PhotoPoint,
): Homography<PhotoPoint, SurfacePoint> {
  if (projectiveDepth(map, seen) > 0) return map;
  return { elements: map.elements.map((e) => -e) as unknown as typeof map.elements };
}

/** Without a card the plane is the photo itself. */
export const flatPhotoMap = (photo: { readonly width: number; readonly height: number }): PhotoMap =>
  photoMap(homography([1, 0, 0, 0, 1, 0, 0, 0, 1]), straightLens(photo));

/**
 * Factor that takes an ideal pixel's offset from the centre to where the lens puts it, for a squared ideal radius in half
 * diagonals. Series of the inverse of r = d (1 + bend d^2); below 1e-5 of the radius off for |bend r^2| < 0.009.
 */
export function bendFactor(bend: number, radiusSquared: number): number {
  const k = bend * radiusSquared;
  return 1 - k + 3 * k * k;
}

export function toPhotoPixel(map: PhotoMap, point: SurfacePoint): PhotoPoint {
  const [u, v] = project(map.toIdeal, point);
  const { bend, centrePx, halfDiagonalPx } = map.lens;
  const dx = u - centrePx[0];
  const dy = v - centrePx[1];
  const factor = bendFactor(bend, (dx * dx + dy * dy) / halfDiagonalPx ** 2);
  return photoPoint(centrePx[0] + dx * factor, centrePx[1] + dy * factor);
}

/** Factor that takes a photo pixel's offset from the centre to where an ideal lens would have put it. */
export const lensFactor = ({ bend, halfDiagonalPx }: Lens, radiusSquaredPx2: number): number =>
  1 + (bend * radiusSquaredPx2) / halfDiagonalPx ** 2;

/** Where an ideal lens would have put a pixel of the photo. */
export function straighten(lens: Lens, [x, y]: PhotoPoint): PhotoPoint {
  const { centrePx } = lens;
  const dx = x - centrePx[0];
  const dy = y - centrePx[1];
  const factor = lensFactor(lens, dx * dx + dy * dy);
  return photoPoint(centrePx[0] + dx * factor, centrePx[1] + dy * factor);
}

export const toSurfacePoint = (map: PhotoMap, pixel: PhotoPoint): SurfacePoint =>
  project(map.fromIdeal, straighten(map.lens, pixel));

/** Derivative of the photo pixel by the surface point: [du/dx, du/dy, dv/dx, dv/dy], px per unit of the plane. */
export function photoDerivative(map: PhotoMap, [x, y]: SurfacePoint): [number, number, number, number] {
  const step = 0.5;
  const [left, right] = [toPhotoPixel(map, surfacePoint(x - step, y)), toPhotoPixel(map, surfacePoint(x + step, y))];
  const [above, below] = [toPhotoPixel(map, surfacePoint(x, y - step)), toPhotoPixel(map, surfacePoint(x, y + step))];
  return [right[0] - left[0], below[0] - above[0], right[1] - left[1], below[1] - above[1]];
}

/** Photo pixels per unit of the plane: square root of the area magnification. */
export function pixelsPerUnit(map: PhotoMap, point: SurfacePoint): number {
  const [a, b, c, d] = photoDerivative(map, point);
  return Math.sqrt(Math.abs(a * d - b * c));
}
