import { degrees } from '../../domain/index.ts';
import type { Degrees, Homography, PhotoPoint, SurfacePoint } from '../../domain/index.ts';

/** Focal length of a phone's main camera over the longer side of its picture (24-28 mm equivalent: 0.67-0.78). Common practice. */
const USUAL_FOCAL = 0.73;
/** Standard deviation of the logarithm of that ratio: covers 2x lenses and mild cropping. */
const FOCAL_SPREAD = 0.25;
/** How well a homography's two columns are known to be equally long and square to each other. */
const COLUMN_SIGMA = 0.01;

/**
 * Angle between the camera's axis and the normal of the surface.
 *
 * The two columns of a plane homography must be orthogonal and equally long once the camera's focal length is taken out;
 * the focal length that does this best, weighed against what phones have, gives the rotation. The principal point is
 * taken at the centre of the picture (an uncropped photo). Source: [HARTLEY2004], section 8.8 (calibrating conic).
 */
export function tiltOf(toIdeal: Homography<SurfacePoint, PhotoPoint>, photo: PhotoSize): Degrees {
  const [c1, c2] = rotationColumns(toIdeal, photo, focalLengthOf(toIdeal, photo));
  return degrees((tiltFrom(c1, c2) * 180) / Math.PI);
}

interface PhotoSize {
  readonly width: number;
  readonly height: number;
}

/** Focal length in pixels that fits the homography best, weighed against what phones have. */
export function focalLengthOf(toIdeal: Homography<SurfacePoint, PhotoPoint>, photo: PhotoSize): number {
  const longSide = Math.max(photo.width, photo.height);
  let best = { cost: Infinity, focal: USUAL_FOCAL * longSide };
  for (let step = -60; step <= 60; step++) {
    const logRatio = (step / 60) * 3 * FOCAL_SPREAD;
    const focal = USUAL_FOCAL * longSide * Math.exp(logRatio);
    const [c1, c2] = rotationColumns(toIdeal, photo, focal);
    const n1 = Math.hypot(...c1);
    const n2 = Math.hypot(...c2);
    const squareness = dot(c1, c2) / (n1 * n2);
    const lengths = Math.log(n1 / n2);
    const cost = (squareness ** 2 + lengths ** 2) / COLUMN_SIGMA ** 2 + (logRatio / FOCAL_SPREAD) ** 2;
    if (cost < best.cost) best = { cost, focal };
  }
  return best.focal;
}

type Vector = readonly [number, number, number];

const dot = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

function rotationColumns(
  toIdeal: Homography<SurfacePoint, PhotoPoint>,
  photo: PhotoSize,
  focal: number,
): [Vector, Vector] {
  const h = toIdeal.elements;
  const column = (k: 0 | 1): Vector => [
    (h[k] - (photo.width / 2) * h[6 + k]) / focal,
    (h[3 + k] - (photo.height / 2) * h[6 + k]) / focal,
    h[6 + k],
  ];
  return [column(0), column(1)];
}

function tiltFrom(a: Vector, b: Vector): number {
  const normal: Vector = [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
  return Math.acos(Math.min(1, Math.abs(normal[2]) / Math.hypot(...normal)));
}
