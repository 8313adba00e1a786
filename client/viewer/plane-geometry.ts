import { adjugate } from '@domain/adjugate.ts';

/** A point of a picture (px) or of the surface (mm); the name of the variable says which. */
export type Point = readonly [x: number, y: number];
/** A plane projective map, row-major 3 x 3. */
export type PlaneMap = readonly number[];

/** Where a map takes a point. Null on and behind the horizon. */
export function mapPoint(map: PlaneMap, [x, y]: Point): Point | null {
  const depth = map[6] * x + map[7] * y + map[8];
  const atOrigin = map[8];
  if (!(depth * atOrigin > 0)) return null;
  return [(map[0] * x + map[1] * y + map[2]) / depth, (map[3] * x + map[4] * y + map[5]) / depth];
}

/** @returns null for a map that folds the plane onto a line */
export function invertMap(map: PlaneMap): PlaneMap | null {
  const inverse = adjugate(map);
  const last = inverse[8];
  const scaled = inverse.map((element) => element / last);
  return scaled.every(Number.isFinite) ? scaled : null;
}

/** First `first`, then `second`. */
export function chainMaps(first: PlaneMap, second: PlaneMap): PlaneMap {
  const cell = (row: number, column: number): number =>
    second[3 * row] * first[column] + second[3 * row + 1] * first[3 + column] + second[3 * row + 2] * first[6 + column];
  return [0, 1, 2].flatMap((row) => [0, 1, 2].map((column) => cell(row, column)));
}

export const distance = ([ax, ay]: Point, [bx, by]: Point): number => Math.hypot(ax - bx, ay - by);

export function centreOf(points: readonly Point[]): Point {
  const sum = points.reduce<Point>(([x, y], [px, py]) => [x + px, y + py], [0, 0]);
  return [sum[0] / points.length, sum[1] / points.length];
}

/** Similarity (turn, even zoom, shift) that takes points nearest to others in the least-squares sense. */
export interface Similarity {
  readonly zoom: number;
  readonly turnRadians: number;
  apply(point: Point): Point;
}

/**
 * Least-squares similarity in two dimensions, in closed form with complex numbers. Source: [HARTLEY2004], section 2.4.2 for
 * the map; the least-squares solution is the regression of complex numbers.
 * @returns null when the points coincide
 */
export function fitSimilarity(from: readonly Point[], to: readonly Point[]): Similarity | null {
  const [cf, ct] = [centreOf(from), centreOf(to)];
  let [real, imaginary, power] = [0, 0, 0];
  from.forEach(([x, y], index) => {
    const [dx, dy, du, dv] = [x - cf[0], y - cf[1], to[index][0] - ct[0], to[index][1] - ct[1]];
    real += dx * du + dy * dv;
    imaginary += dx * dv - dy * du;
    power += dx * dx + dy * dy;
  });
  if (!(power > 0)) return null;
  const [a, b] = [real / power, imaginary / power];
  if (!(Math.hypot(a, b) > 0)) return null;
  return {
    zoom: Math.hypot(a, b),
    turnRadians: Math.atan2(b, a),
    apply: ([x, y]) => {
      const [dx, dy] = [x - cf[0], y - cf[1]];
      return [ct[0] + a * dx - b * dy, ct[1] + b * dx + a * dy];
    },
  };
}
