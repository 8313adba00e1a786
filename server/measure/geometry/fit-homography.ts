import type { Homography, PhotoPoint, SurfacePoint } from '../../domain/index.ts';
import { homography, projectInto } from './homography.ts';
import { invertSymmetric, solveSymmetric } from './solve-symmetric.ts';

type Point = PhotoPoint | SurfacePoint;

export interface PointPair<From extends Point, To extends Point> {
  readonly from: From;
  readonly to: To;
}

export interface HomographyFit<From extends Point, To extends Point> {
  readonly map: Homography<From, To>;
  /** Root mean square distance of the mapped points from their partners, units of To. */
  readonly rms: number;
  /** 8 x 8 row-major covariance of the elements h11..h32 for unit variance of each coordinate of To. */
  readonly unitCovariance: Float64Array;
}

const ITERATIONS = 12;

/**
 * Least-squares homography that minimises the distance in To (Gauss-Newton on the normalised direct linear transform).
 * Source: [HARTLEY2004], chapter 4.
 * @returns null for fewer than four pairs or a degenerate arrangement (three of four on a line, coincident points)
 */
export function fitHomography<From extends Point, To extends Point>(
  pairs: readonly PointPair<From, To>[],
): HomographyFit<From, To> | null {
  if (pairs.length < 4) return null;
  const from = normaliser(pairs.map((p) => p.from));
  const to = normaliser(pairs.map((p) => p.to));
  if (from === null || to === null) return null;
  const scaled = pairs.map((p) => [...from.apply(p.from), ...to.apply(p.to)] as const);
  const elements = refine(directLinear(scaled), scaled);
  if (elements === null) return null;
  return describe(undoNormalisation(elements, from, to), pairs);
}

interface Normaliser {
  readonly centre: readonly [number, number];
  readonly scale: number;
  apply(point: Point): [number, number];
}

function normaliser(points: readonly Point[]): Normaliser | null {
  const cx = points.reduce((sum, p) => sum + p[0], 0) / points.length;
  const cy = points.reduce((sum, p) => sum + p[1], 0) / points.length;
  const spread = points.reduce((sum, p) => sum + Math.hypot(p[0] - cx, p[1] - cy), 0) / points.length;
  if (!(spread > 0) || !Number.isFinite(spread)) return null;
  const scale = Math.SQRT2 / spread;
  return { centre: [cx, cy], scale, apply: (p) => [(p[0] - cx) * scale, (p[1] - cy) * scale] };
}

type ScaledPair = readonly [x: number, y: number, u: number, v: number];

/** Linear start: h33 = 1 holds because the centroid, the origin here, is in front of the camera. */
function directLinear(pairs: readonly ScaledPair[]): Float64Array | null {
  const normal = new Float64Array(64);
  const right = new Float64Array(8);
  const row = new Float64Array(8);
  for (const [x, y, u, v] of pairs) {
    row.set([x, y, 1, 0, 0, 0, -u * x, -u * y]);
    accumulate(normal, right, row, u);
    row.set([0, 0, 0, x, y, 1, -v * x, -v * y]);
    accumulate(normal, right, row, v);
  }
  return solveSymmetric(normal, right, 8);
}

function accumulate(normal: Float64Array, right: Float64Array, row: Float64Array, value: number): void {
  for (let i = 0; i < 8; i++) {
    right[i] += row[i] * value;
    for (let j = 0; j < 8; j++) normal[i * 8 + j] += row[i] * row[j];
  }
}

function refine(start: Float64Array | null, pairs: readonly ScaledPair[]): Float64Array | null {
  let h = start;
  for (let iteration = 0; iteration < ITERATIONS && h !== null; iteration++) {
    const { normal, right } = linearise(h, pairs);
    const step = solveSymmetric(normal, right, 8);
    if (step === null) return null;
    const next: Float64Array = h.map((value, i) => value + step[i]);
    const moved = Math.max(...step.map(Math.abs));
    h = next;
    if (moved < 1e-12) break;
  }
  return h !== null && h.every(Number.isFinite) ? h : null;
}

/** Normal equations of the reprojection error at h, with residuals (partner minus mapped point) on the right. */
function linearise(h: Float64Array, pairs: readonly ScaledPair[]): { normal: Float64Array; right: Float64Array } {
  const normal = new Float64Array(64);
  const right = new Float64Array(8);
  const row = new Float64Array(8);
  for (const [x, y, u, v] of pairs) {
    const depth = h[6] * x + h[7] * y + 1;
    const mu = (h[0] * x + h[1] * y + h[2]) / depth;
    const mv = (h[3] * x + h[4] * y + h[5]) / depth;
    row.set([x / depth, y / depth, 1 / depth, 0, 0, 0, (-mu * x) / depth, (-mu * y) / depth]);
    accumulate(normal, right, row, u - mu);
    row.set([0, 0, 0, x / depth, y / depth, 1 / depth, (-mv * x) / depth, (-mv * y) / depth]);
    accumulate(normal, right, row, v - mv);
  }
  return { normal, right };
}

function undoNormalisation(h: Float64Array, from: Normaliser, to: Normaliser): number[] {
  const s = from.scale;
  const [cx, cy] = from.centre;
  // H_scaled * N_from
  const m = [0, 1, 2].map((r) => {
    const [a, b, c] = r === 2 ? [h[6], h[7], 1] : [h[3 * r], h[3 * r + 1], h[3 * r + 2]];
    return [a * s, b * s, c - s * (a * cx + b * cy)];
  });
  // N_to^-1 * that
  const [tx, ty] = to.centre;
  const inverse = 1 / to.scale;
  const first = m[0].map((value, i) => value * inverse + tx * m[2][i]);
  const second = m[1].map((value, i) => value * inverse + ty * m[2][i]);
  return [...first, ...second, ...m[2]];
}

function describe<From extends Point, To extends Point>(
  elements: number[],
  pairs: readonly PointPair<From, To>[],
): HomographyFit<From, To> | null {
  if (!elements.every(Number.isFinite) || elements[8] === 0) return null;
  const map = homography<From, To>(elements);
  const raw = pairs.map((p): ScaledPair => [p.from[0], p.from[1], p.to[0], p.to[1]]);
  const { normal } = linearise(Float64Array.from(map.elements.slice(0, 8)), raw);
  const unitCovariance = invertBalanced(normal);
  if (unitCovariance === null) return null;
  const out = new Float64Array(3);
  let sum = 0;
  for (const [x, y, u, v] of raw) {
    projectInto(map, x, y, out);
    if (!(out[2] > 0)) return null;
    sum += (out[0] - u) ** 2 + (out[1] - v) ** 2;
  }
  return { map, rms: Math.sqrt(sum / raw.length), unitCovariance };
}

/** Scales the matrix to a unit diagonal first: elements of a homography differ by orders of magnitude. */
function invertBalanced(matrix: Float64Array): Float64Array | null {
  const scale = Float64Array.from({ length: 8 }, (_, i) => 1 / Math.sqrt(matrix[i * 9]));
  if (!scale.every(Number.isFinite)) return null;
  const balanced = matrix.map((value, k) => value * scale[Math.floor(k / 8)] * scale[k % 8]);
  const inverse = invertSymmetric(balanced, 8);
  return inverse === null ? null : inverse.map((value, k) => value * scale[Math.floor(k / 8)] * scale[k % 8]);
}
