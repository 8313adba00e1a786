import type { Streaks } from '@domain/streaks.ts';
import { mapPoint } from './plane-geometry.ts';
import type { PlaneMap, Point } from './plane-geometry.ts';

/** More lines than a screen can tell apart are not drawn. */
const MOST_LINES = 400;
const RADIANS_PER_DEGREE = Math.PI / 180;

/**
 * Lines at the measured direction and spacing across the zone, in photo pixels. They show how the streaks run and how far
 * apart they lie; which stripe a line falls on is not known here.
 *
 * @param zoneMm corners of the zone in the card frame
 * @param fromMm from millimetres to photo pixels
 */
export function streakLines(
  { found, pitchMm, directionDegrees }: Streaks,
  zoneMm: readonly Point[] | null,
  fromMm: PlaneMap | null,
): readonly (readonly [Point, Point])[] {
  if (!found || pitchMm === null || directionDegrees === null || zoneMm === null || fromMm === null) return [];
  const [c, s] = [Math.cos(directionDegrees * RADIANS_PER_DEGREE), Math.sin(directionDegrees * RADIANS_PER_DEGREE)];
  const along = zoneMm.map(([x, y]) => c * x + s * y);
  const across = zoneMm.map(([x, y]) => c * y - s * x);
  const [first, last] = [Math.min(...across), Math.max(...across)];
  const count = Math.floor((last - first) / pitchMm.value);
  if (count > MOST_LINES) return [];
  const at = (u: number, v: number): Point | null => mapPoint(fromMm, [c * u - s * v, s * u + c * v]);
  const lines: (readonly [Point, Point])[] = [];
  for (let index = 0; index <= count; index++) {
    const v = first + (index + 0.5) * pitchMm.value;
    const [from, to] = [at(Math.min(...along), v), at(Math.max(...along), v)];
    if (from !== null && to !== null) lines.push([from, to]);
  }
  return lines;
}
