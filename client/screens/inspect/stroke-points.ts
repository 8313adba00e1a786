import { distance } from '../../viewer/plane-geometry.ts';
import type { Point } from '../../viewer/plane-geometry.ts';

/** The server takes no longer stroke; a longer one is ended here and goes on as another. */
export const MOST_STROKE_POINTS = 2000;
/** Points closer than this part of the brush add nothing to what it paints: under 1 % of its radius at the rim. */
const LEAST_STEP = 0.25;

/** A stroke with one more point, if that is far enough from the last one to matter. */
export function addStrokePoint(points: readonly Point[], point: Point, radius: number): readonly Point[] {
  const last = points.at(-1);
  if (last !== undefined && distance(last, point) < LEAST_STEP * radius) return points;
  return [...points, point];
}
