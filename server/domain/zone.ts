import { z } from 'zod';
import { finiteNumber } from './measured.ts';
import { failure, success } from './outcome.ts';
import type { Outcome } from './outcome.ts';
import { photoPoint, surfacePoint } from './spaces.ts';
import type { PhotoPoint, SurfacePoint } from './spaces.ts';

/** The part of the surface that is judged: a simple polygon in the card frame or in the upright photo. */
export type Zone =
  | { readonly space: 'surface'; readonly polygon: readonly SurfacePoint[] }
  | { readonly space: 'photo'; readonly polygon: readonly PhotoPoint[] };

const vertices = z.array(z.tuple([finiteNumber, finiteNumber])).min(3);

/** A zone kept in a file: exactly one outline, its unit in the key. */
export const zoneFileSchema = z.union([
  z.object({ polygonMm: vertices }).transform((file) => surfaceZone(file.polygonMm)),
  z.object({ polygonPx: vertices }).transform((file) => photoZone(file.polygonPx)),
]);

const surfaceZone = (polygon: readonly [number, number][]): Zone => ({
  space: 'surface',
  polygon: polygon.map(([x, y]) => surfacePoint(x, y)),
});
const photoZone = (polygon: readonly [number, number][]): Zone => ({
  space: 'photo',
  polygon: polygon.map(([x, y]) => photoPoint(x, y)),
});

/**
 * Reads `mm:x0,y0,x1,y1` (opposite corners of an upright rectangle in the card frame; more than two points are a polygon)
 * or `px:x0,y0,...` (polygon in the upright photo; two points are the corners of a rectangle).
 */
export function parseZone(text: string): Outcome<Zone> {
  const malformed = (detail: string): Outcome<Zone> => failure({ code: 'zone-malformed', text, detail });
  const match = /^(mm|px):(.*)$/s.exec(text.trim());
  if (match === null) return malformed('expected "mm:x0,y0,x1,y1" or "px:x0,y0,x1,y1,..."');
  const words = match[2].split(',').map((word) => word.trim());
  const numbers = words.map(Number);
  const bad = words.find((word, i) => word === '' || !Number.isFinite(numbers[i]));
  if (bad !== undefined) return malformed(`"${bad}" is not a number`);
  if (numbers.length % 2 !== 0) return malformed(`${numbers.length} numbers do not make points`);
  if (numbers.length < 4) return malformed('at least two points are needed');
  const points: [number, number][] = [];
  for (let i = 0; i < numbers.length; i += 2) points.push([numbers[i], numbers[i + 1]]);
  const polygon = points.length === 2 ? rectangle(points[0], points[1]) : points;
  return success(match[1] === 'mm' ? surfaceZone(polygon) : photoZone(polygon));
}

function rectangle([x0, y0]: [number, number], [x1, y1]: [number, number]): [number, number][] {
  const [left, right] = [Math.min(x0, x1), Math.max(x0, x1)];
  const [top, bottom] = [Math.min(y0, y1), Math.max(y0, y1)];
  return [
    [left, top],
    [right, top],
    [right, bottom],
    [left, bottom],
  ];
}
