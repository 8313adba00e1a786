import { photoPoint, surfacePoint } from '../../domain/index.ts';
import type { PhotoPoint, RectangleMm, SurfacePoint } from '../../domain/index.ts';
import { photoDerivative, toPhotoPixel } from '../geometry/photo-map.ts';
import type { PhotoMap } from '../geometry/photo-map.ts';
import type { LuminanceSampler } from '../raster/luminance-sampler.ts';

/** Part of a side, from each end, that is left out: corners are rounded by blur. */
const END_MARGIN = 0.15;
const PROFILES_PER_SIDE = 16;
/** Spacing of samples along a profile, px. */
const STEP_PX = 0.25;
/** An edge counts when its step is at least this part of the local brightness. */
const LEAST_RELATIVE_STEP = 0.25;
/** Profiles that must agree on a side, and how far (px) one may lie from the side's line. */
const LEAST_PROFILES = 6;
const OUTLIER_PX = 1.2;

/** A printed dark square found again at sub-pixel accuracy. */
export interface RefinedSquare {
  /** Corners in the order top left, top right, bottom right, bottom left of the card frame. */
  readonly corners: readonly [PhotoPoint, PhotoPoint, PhotoPoint, PhotoPoint];
  /** How far each corner moves when all four edges move outwards by one pixel, px. */
  readonly growth: readonly (readonly [x: number, y: number])[];
  /** Root mean square distance of edge points from the four fitted lines, px. */
  readonly edgeRmsPx: number;
}

/**
 * Refines the corners of a dark square on white from its four edges: on each side, profiles across the edge give the
 * centroid of the brightness step; a line through them; corners where lines meet.
 *
 * @param reachMm how far a profile may run to either side before it meets something else that is printed
 * @returns null when an edge is hidden, out of the photo or not straight
 */
export function refineSquare(
  luminance: LuminanceSampler,
  map: PhotoMap,
  square: RectangleMm,
  reachMm: number,
): RefinedSquare | null {
  const corners = squareCorners(square);
  const lines: Line[] = [];
  for (let side = 0; side < 4; side++) {
    const line = fitSide(luminance, map, { from: corners[side], to: corners[(side + 1) % 4], reachMm });
    if (line === null) return null;
    lines.push(line);
  }
  const refined = cornersOf(lines);
  const grown = cornersOf(lines.map(movedOutwards));
  if (refined === null || grown === null) return null;
  const edgeRmsPx = Math.sqrt(lines.reduce((sum, line) => sum + line.rms * line.rms, 0) / 4);
  const growth = refined.map((corner, k) => [grown[k][0] - corner[0], grown[k][1] - corner[1]] as const);
  return { corners: refined, growth, edgeRmsPx };
}

/** Lines in the order of the sides; a corner lies where a side meets the one before it. */
function cornersOf(lines: readonly Line[]): [PhotoPoint, PhotoPoint, PhotoPoint, PhotoPoint] | null {
  const [a, b, c, d] = [0, 1, 2, 3].map((k) => intersect(lines[(k + 3) % 4], lines[k]));
  return a === null || b === null || c === null || d === null ? null : [a, b, c, d];
}

/** The outside lies to the left of the direction of travel, as sides run clockwise with y down. */
const movedOutwards = (line: Line): Line => ({
  ...line,
  point: [line.point[0] + line.along[1], line.point[1] - line.along[0]],
});

export function squareCorners(square: RectangleMm): [SurfacePoint, SurfacePoint, SurfacePoint, SurfacePoint] {
  const { x, y, width, height } = square;
  return [
    surfacePoint(x, y),
    surfacePoint(x + width, y),
    surfacePoint(x + width, y + height),
    surfacePoint(x, y + height),
  ];
}

interface Side {
  readonly from: SurfacePoint;
  readonly to: SurfacePoint;
  readonly reachMm: number;
}

/** A line through `point` along the unit vector `along` in the direction of travel round the square, px. */
interface Line {
  readonly point: readonly [number, number];
  readonly along: readonly [number, number];
  readonly rms: number;
}

function fitSide(luminance: LuminanceSampler, map: PhotoMap, side: Side): Line | null {
  const points: [number, number][] = [];
  for (let i = 0; i < PROFILES_PER_SIDE; i++) {
    const t = END_MARGIN + ((1 - 2 * END_MARGIN) * (i + 0.5)) / PROFILES_PER_SIDE;
    const x = side.from[0] + t * (side.to[0] - side.from[0]);
    const y = side.from[1] + t * (side.to[1] - side.from[1]);
    const point = edgePoint(luminance, map, surfacePoint(x, y), side);
    if (point !== null) points.push(point);
  }
  const line = points.length < LEAST_PROFILES ? null : fitLine(points);
  if (line === null) return null;
  const travel = [points[points.length - 1][0] - points[0][0], points[points.length - 1][1] - points[0][1]];
  const isForwards = line.along[0] * travel[0] + line.along[1] * travel[1] > 0;
  return isForwards ? line : { ...line, along: [-line.along[0], -line.along[1]] };
}

/** Where brightness steps from dark (inside) to bright (outside) along the image of the side's outward normal. */
function edgePoint(luminance: LuminanceSampler, map: PhotoMap, at: SurfacePoint, side: Side): [number, number] | null {
  const centre = toPhotoPixel(map, at);
  const [a, b, c, d] = photoDerivative(map, at);
  const ex = side.to[0] - side.from[0];
  const ey = side.to[1] - side.from[1];
  const tangent = [a * ex + b * ey, c * ex + d * ey];
  const length = Math.hypot(tangent[0], tangent[1]);
  // Sides run clockwise, so the outside lies to the left of the direction of travel (y down).
  const normal = [tangent[1] / length, -tangent[0] / length];
  const sideMm = Math.hypot(ex, ey);
  const pxPerMm = (Math.abs(a * d - b * c) * sideMm) / length;
  const reach = Math.min(side.reachMm * pxPerMm, 8);
  const steps = Math.floor(reach / STEP_PX);
  if (steps < 4) return null;
  const profile = new Float64Array(2 * steps + 1);
  for (let k = -steps; k <= steps; k++) {
    profile[k + steps] = luminance(centre[0] + normal[0] * k * STEP_PX, centre[1] + normal[1] * k * STEP_PX);
  }
  const offset = stepCentroid(profile);
  if (offset === null) return null;
  const shift = (offset - steps) * STEP_PX;
  return [centre[0] + normal[0] * shift, centre[1] + normal[1] * shift];
}

/** Centroid of the rising step nearest the steepest rise, in samples; null when there is no clear step. */
function stepCentroid(profile: Float64Array): number | null {
  let steepest = -1;
  let best = 0;
  for (let k = 2; k < profile.length - 2; k++) {
    const rise = profile[k + 2] - profile[k - 2];
    if (rise > best) {
      best = rise;
      steepest = k;
    }
  }
  if (steepest < 0) return null;
  // Walk down both flanks of the step until the rise has died to a tenth.
  const riseAt = (k: number): number => profile[k + 1] - profile[k];
  let low = steepest;
  let high = steepest;
  const least = best / 40;
  while (low > 0 && riseAt(low - 1) > least) low--;
  while (high < profile.length - 1 && riseAt(high) > least) high++;
  const dark = profile[low];
  const bright = profile[high];
  if (!(bright - dark > LEAST_RELATIVE_STEP * bright)) return null;
  let sum = 0;
  let moment = 0;
  for (let k = low; k < high; k++) {
    sum += riseAt(k);
    moment += riseAt(k) * (k + 0.5);
  }
  return moment / sum;
}

/** Total least squares with the worst points left out until all lie near. */
function fitLine(points: [number, number][]): Line | null {
  let kept = points;
  for (;;) {
    const line = leastSquaresLine(kept);
    const distances = kept.map((p) => Math.abs(distance(line, p)));
    const worst = Math.max(...distances);
    if (worst <= Math.min(OUTLIER_PX, Math.max(OUTLIER_PX / 4, 3 * line.rms))) return line;
    kept = kept.filter((_, i) => distances[i] < worst);
    if (kept.length < LEAST_PROFILES) return null;
  }
}

const distance = (line: Line, p: readonly [number, number]): number =>
  (p[0] - line.point[0]) * line.along[1] - (p[1] - line.point[1]) * line.along[0];

function leastSquaresLine(points: readonly [number, number][]): Line {
  const n = points.length;
  const cx = points.reduce((sum, p) => sum + p[0], 0) / n;
  const cy = points.reduce((sum, p) => sum + p[1], 0) / n;
  let xx = 0;
  let xy = 0;
  let yy = 0;
  for (const [x, y] of points) {
    xx += (x - cx) ** 2;
    xy += (x - cx) * (y - cy);
    yy += (y - cy) ** 2;
  }
  const angle = Math.atan2(2 * xy, xx - yy) / 2;
  const along = [Math.cos(angle), Math.sin(angle)] as const;
  const residual = xx * along[1] ** 2 - 2 * xy * along[0] * along[1] + yy * along[0] ** 2;
  return { point: [cx, cy], along, rms: Math.sqrt(Math.max(0, residual) / n) };
}

function intersect(a: Line, b: Line): PhotoPoint | null {
  const cross = a.along[0] * b.along[1] - a.along[1] * b.along[0];
  if (Math.abs(cross) < 0.1) return null;
  const dx = b.point[0] - a.point[0];
  const dy = b.point[1] - a.point[1];
  const t = (dx * b.along[1] - dy * b.along[0]) / cross;
  return photoPoint(a.point[0] + t * a.along[0], a.point[1] + t * a.along[1]);
}
