import { CLASS_CODE, NOT_MEASURED_CODE } from './surface.ts';
import type { Paint, PaintMark } from './api/corrections.ts';

/** Class codes as the photo's pixels see them; OUTSIDE_CODE where the zone is not. */
export interface ClassMap {
  readonly width: number;
  readonly height: number;
  readonly codes: Uint8Array;
}

export const OUTSIDE_CODE = 255;

const codeOf = (paint: Paint): number => (paint === 'not measured' ? NOT_MEASURED_CODE : CLASS_CODE[paint]);

type Point = readonly [x: number, y: number];

/** A map after a person's marks, in their order. The given map stays; nothing outside the zone is painted. */
export function paintClassMap(map: ClassMap, marks: readonly PaintMark[]): ClassMap {
  const painted = { ...map, codes: map.codes.slice() };
  for (const mark of marks) {
    const code = codeOf(mark.paint);
    switch (mark.kind) {
      case 'brush':
        paintBrush(painted, mark.points, { radius: mark.radiusPx, code });
        break;
      case 'polygon':
        paintPolygon(painted, mark.points, code);
        break;
      case 'fill':
        paintFill(painted, mark.at, code);
        break;
    }
  }
  return painted;
}

/** Pixels whose centre is within the radius of the line through the points. */
function paintBrush(map: ClassMap, points: readonly Point[], brush: { radius: number; code: number }): void {
  for (let i = 0; i < points.length; i++) paintStretch(map, [points[Math.max(0, i - 1)], points[i]], brush);
}

function paintStretch(
  map: ClassMap,
  [from, to]: readonly [Point, Point],
  { radius, code }: { radius: number; code: number },
): void {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const lengthSquared = dx * dx + dy * dy;
  const top = Math.max(0, Math.floor(Math.min(from[1], to[1]) - radius));
  const bottom = Math.min(map.height - 1, Math.ceil(Math.max(from[1], to[1]) + radius));
  const left = Math.max(0, Math.floor(Math.min(from[0], to[0]) - radius));
  const right = Math.min(map.width - 1, Math.ceil(Math.max(from[0], to[0]) + radius));
  for (let y = top; y <= bottom; y++) {
    for (let x = left; x <= right; x++) {
      const [px, py] = [x + 0.5 - from[0], y + 0.5 - from[1]];
      const along = lengthSquared === 0 ? 0 : Math.min(1, Math.max(0, (px * dx + py * dy) / lengthSquared));
      if (Math.hypot(px - along * dx, py - along * dy) <= radius) paintPixel(map, y * map.width + x, code);
    }
  }
}

/** Pixels whose centre lies inside by the even-odd rule. */
function paintPolygon(map: ClassMap, points: readonly Point[], code: number): void {
  for (let y = 0; y < map.height; y++) {
    const crossings = crossingsAt(points, y + 0.5);
    for (let i = 0; i + 1 < crossings.length; i += 2) {
      const first = Math.max(0, Math.ceil(crossings[i] - 0.5));
      const last = Math.min(map.width - 1, Math.ceil(crossings[i + 1] - 0.5) - 1);
      for (let x = first; x <= last; x++) paintPixel(map, y * map.width + x, code);
    }
  }
}

/** Crossings are rounded to about a millionth of a pixel, so that an edge through a pixel's centre falls alike wherever it lies. */
const CROSSINGS_PER_PX = 2 ** 20;

function crossingsAt(points: readonly Point[], y: number): number[] {
  const crossings: number[] = [];
  for (let i = 0; i < points.length; i++) {
    const [[x0, y0], [x1, y1]] = [points[i], points[(i + 1) % points.length]];
    if (y0 <= y === y1 <= y) continue;
    const x = x0 + ((y - y0) / (y1 - y0)) * (x1 - x0);
    crossings.push(Math.round(x * CROSSINGS_PER_PX) / CROSSINGS_PER_PX);
  }
  return crossings.sort((a, b) => a - b);
}

/** The pixel's patch of one class, over edges, not corners. */
function paintFill(map: ClassMap, [x, y]: Point, code: number): void {
  const [column, row] = [Math.floor(x), Math.floor(y)];
  if (column < 0 || row < 0 || column >= map.width || row >= map.height) return;
  const start = row * map.width + column;
  const filled = map.codes[start];
  if (filled === OUTSIDE_CODE || filled === code) return;
  const open = [start];
  map.codes[start] = code;
  for (let index = open.pop(); index !== undefined; index = open.pop()) {
    for (const next of neighbours(map, index)) {
      if (map.codes[next] !== filled) continue;
      map.codes[next] = code;
      open.push(next);
    }
  }
}

function neighbours({ width, height }: ClassMap, index: number): number[] {
  const [x, y] = [index % width, Math.floor(index / width)];
  const found: number[] = [];
  if (x > 0) found.push(index - 1);
  if (x + 1 < width) found.push(index + 1);
  if (y > 0) found.push(index - width);
  if (y + 1 < height) found.push(index + width);
  return found;
}

function paintPixel(map: ClassMap, index: number, code: number): void {
  if (map.codes[index] !== OUTSIDE_CODE) map.codes[index] = code;
}
