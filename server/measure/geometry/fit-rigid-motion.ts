/** Rotation and shift that bring points of one plane onto those of another, both in mm. */
export interface RigidMotion {
  readonly angle: number;
  readonly shift: readonly [x: number, y: number];
}

export interface RigidFit {
  readonly motion: RigidMotion;
  /** Indices of the pairs that agree. */
  readonly inliers: readonly number[];
  /** Root mean square distance of the agreeing pairs, mm. */
  readonly rms: number;
}

type Vertex = readonly [number, number];

export interface VertexPair {
  readonly from: Vertex;
  readonly to: Vertex;
}

const TRIALS = 600;
/** Two pairs that define a trial motion must be this far apart, and equally far in both planes within this ratio. */
const LEAST_BASE = 25;
const MOST_STRETCH = 0.03;

/**
 * Rigid motion by random sample consensus over two-pair trials, then least squares on the agreeing pairs. The trials follow
 * a fixed sequence, so the same input gives the same answer. Source: M. A. Fischler, R. C. Bolles, Comm. ACM 24(6) (1981).
 *
 * @param tolerance distance within which a pair agrees, mm
 * @returns null when no trial has an agreeing third pair
 */
export function fitRigidMotion(pairs: readonly VertexPair[], tolerance: number): RigidFit | null {
  let best: number[] = [];
  let state = 12345;
  const draw = (): number => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return Math.floor((state / 4294967296) * pairs.length);
  };
  for (let trial = 0; trial < TRIALS && pairs.length > 2; trial++) {
    const motion = motionOfTwo(pairs[draw()], pairs[draw()]);
    if (motion === null) continue;
    const agreeing = agree(pairs, motion, tolerance);
    if (agreeing.length > best.length) best = agreeing;
  }
  if (best.length < 3) return null;
  let motion = leastSquares(best.map((i) => pairs[i]));
  best = agree(pairs, motion, tolerance);
  motion = leastSquares(best.map((i) => pairs[i]));
  const squares = best.reduce((sum, i) => sum + distance(motion, pairs[i]) ** 2, 0);
  return { motion, inliers: best, rms: Math.sqrt(squares / best.length) };
}

export function moveRigidly(motion: RigidMotion, [x, y]: Vertex): [x: number, y: number] {
  const c = Math.cos(motion.angle);
  const s = Math.sin(motion.angle);
  return [c * x - s * y + motion.shift[0], s * x + c * y + motion.shift[1]];
}

function distance(motion: RigidMotion, pair: VertexPair): number {
  const [x, y] = moveRigidly(motion, pair.from);
  return Math.hypot(x - pair.to[0], y - pair.to[1]);
}

const agree = (pairs: readonly VertexPair[], motion: RigidMotion, tolerance: number): number[] =>
  pairs.flatMap((pair, i) => (distance(motion, pair) <= tolerance ? [i] : []));

function motionOfTwo(a: VertexPair, b: VertexPair): RigidMotion | null {
  const from = [b.from[0] - a.from[0], b.from[1] - a.from[1]];
  const to = [b.to[0] - a.to[0], b.to[1] - a.to[1]];
  const lengths = [Math.hypot(from[0], from[1]), Math.hypot(to[0], to[1])];
  if (lengths[0] < LEAST_BASE || Math.abs(lengths[1] / lengths[0] - 1) > MOST_STRETCH) return null;
  return leastSquares([a, b]);
}

/** Least-squares rotation and shift (Procrustes in the plane). */
function leastSquares(pairs: readonly VertexPair[]): RigidMotion {
  const mean = (side: 'from' | 'to', k: 0 | 1): number => pairs.reduce((sum, p) => sum + p[side][k], 0) / pairs.length;
  const [fx, fy, tx, ty] = [mean('from', 0), mean('from', 1), mean('to', 0), mean('to', 1)];
  let dot = 0;
  let cross = 0;
  for (const { from, to } of pairs) {
    dot += (from[0] - fx) * (to[0] - tx) + (from[1] - fy) * (to[1] - ty);
    cross += (from[0] - fx) * (to[1] - ty) - (from[1] - fy) * (to[0] - tx);
  }
  const angle = Math.atan2(cross, dot);
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  return { angle, shift: [tx - (c * fx - s * fy), ty - (s * fx + c * fy)] };
}
