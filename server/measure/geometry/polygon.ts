import type { PhotoPoint, SurfacePoint } from '../../domain/index.ts';

type Point = PhotoPoint | SurfacePoint;

/** Area by the shoelace rule, positive whatever the direction of travel; units of the space squared. */
export function polygonArea(polygon: readonly Point[]): number {
  let twice = 0;
  for (let i = 0; i < polygon.length; i++) {
    const [x0, y0] = polygon[i];
    const [x1, y1] = polygon[(i + 1) % polygon.length];
    twice += x0 * y1 - x1 * y0;
  }
  return Math.abs(twice) / 2;
}

/** Centroid of the area. */
export function polygonCentroid<P extends Point>(polygon: readonly P[]): P {
  let twice = 0;
  let sx = 0;
  let sy = 0;
  for (let i = 0; i < polygon.length; i++) {
    const [x0, y0] = polygon[i];
    const [x1, y1] = polygon[(i + 1) % polygon.length];
    const cross = x0 * y1 - x1 * y0;
    twice += cross;
    sx += (x0 + x1) * cross;
    sy += (y0 + y1) * cross;
  }
  return [sx / (3 * twice), sy / (3 * twice)] as unknown as P;
}

/** The first two edges (by index of their start) that meet where they should not; null for a simple polygon. */
export function crossingEdges(polygon: readonly Point[]): [number, number] | null {
  const n = polygon.length;
  for (let i = 0; i < n; i++) {
    for (let j = i + 1; j < n; j++) {
      const areNeighbours = j === i + 1 || (i === 0 && j === n - 1);
      if (areNeighbours) continue;
      if (segmentsMeet(polygon[i], polygon[(i + 1) % n], polygon[j], polygon[(j + 1) % n])) return [i, j];
    }
  }
  return null;
}

const side = (a: Point, b: Point, p: Point): number => (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]);

function segmentsMeet(a: Point, b: Point, c: Point, d: Point): boolean {
  const overlap = (k: 0 | 1): boolean =>
    Math.max(a[k], b[k]) >= Math.min(c[k], d[k]) && Math.max(c[k], d[k]) >= Math.min(a[k], b[k]);
  return side(a, b, c) * side(a, b, d) <= 0 && side(c, d, a) * side(c, d, b) <= 0 && overlap(0) && overlap(1);
}

/** Part of `polygon` inside an axis-aligned rectangle (Sutherland-Hodgman; exact for convex results). */
export function clipToRectangle<P extends Point>(
  polygon: readonly P[],
  rectangle: { x0: number; y0: number; x1: number; y1: number },
): P[] {
  const { x0, y0, x1, y1 } = rectangle;
  const planes: readonly [axis: 0 | 1, limit: number, keepBelow: boolean][] = [
    [0, x0, false],
    [0, x1, true],
    [1, y0, false],
    [1, y1, true],
  ];
  let kept: readonly Point[] = polygon;
  for (const [axis, limit, keepBelow] of planes) kept = clipToHalfPlane(kept, axis, limit, keepBelow);
  return kept as P[];
}

function clipToHalfPlane(polygon: readonly Point[], axis: 0 | 1, limit: number, keepBelow: boolean): Point[] {
  const isInside = (p: Point): boolean => (keepBelow ? p[axis] <= limit : p[axis] >= limit);
  const kept: Point[] = [];
  for (let i = 0; i < polygon.length; i++) {
    const here = polygon[i];
    const next = polygon[(i + 1) % polygon.length];
    if (isInside(here)) kept.push(here);
    if (isInside(here) !== isInside(next)) {
      const t = (limit - here[axis]) / (next[axis] - here[axis]);
      kept.push([here[0] + t * (next[0] - here[0]), here[1] + t * (next[1] - here[1])] as unknown as Point);
    }
  }
  return kept;
}

/** Axis-aligned bounds of a polygon. */
export function polygonBounds(polygon: readonly Point[]): { x0: number; y0: number; x1: number; y1: number } {
  const xs = polygon.map((p) => p[0]);
  const ys = polygon.map((p) => p[1]);
  return { x0: Math.min(...xs), y0: Math.min(...ys), x1: Math.max(...xs), y1: Math.max(...ys) };
}
