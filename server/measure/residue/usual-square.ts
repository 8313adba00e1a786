import type { ByteMask, Plane } from '../raster/plane.ts';

/** Mean of a square over one cell of the surface. */
interface Cell {
  readonly square: number;
  /** Pixels that count. */
  readonly weight: number;
  /** Part of the surface, for the scatter. */
  readonly part: number;
}

/** Cells of a surface, and how they scatter where it is even. */
export interface Cells {
  /** Side, mm. */
  readonly sideMm: number;
  /** End of the lowest tenth of the cells on even ground, and where the search ends there, in parts of the mean. */
  readonly tenthOfEven: number;
  readonly usualOfEven: number;
}

/** Cells with less that counts are left out, where enough others are there. */
const LEAST_COVER = 0.25;
const ENOUGH_CELLS = 8;
/** Parts that are left out in turn: wider than what hangs together on most surfaces. */
const PART_MM = 12;

/** The search starts from the smooth cells, whatever part of the surface is rough. */
const SMOOTH_PART = 0.1;
/** Cells rougher than the usual one by this are of another kind. */
const MOST_TIMES = 1.5;
const ROUNDS = 10;

export interface UsualSquare {
  readonly square: number;
  /** Standard deviation of `square`, by leaving out one part after another. Source: [EFRON1982]. */
  readonly sigma: number;
}

/**
 * What a square is on the even ground of a surface, wherever patches of something rougher lie in it: the median of the cells up
 * to 1.5 times itself, sought from the smoothest tenth upwards. Up to most of the surface may be rough without moving it much.
 * @returns null where nothing counts
 */
export function usualSquare(squares: Plane, mask: ByteMask, on: Cells & { stepMm: number }): UsualSquare | null {
  const cells = cellsOf(squares, mask, on);
  const square = usualOf(cells, on);
  if (square === null) return null;
  const left: number[] = [];
  for (const part of new Set(cells.map((cell) => cell.part))) {
    const usual = usualOf(
      cells.filter((cell) => cell.part !== part),
      on,
    );
    if (usual !== null) left.push(usual);
  }
  // One part says nothing about scatter.
  if (left.length < 2) return { square, sigma: square };
  const mean = left.reduce((sum, v) => sum + v, 0) / left.length;
  const spread = left.reduce((sum, v) => sum + (v - mean) ** 2, 0);
  return { square, sigma: Math.sqrt(((left.length - 1) / left.length) * spread) };
}

/** In ascending order of their squares. */
function cellsOf(
  { width, height, values }: Plane,
  mask: ByteMask,
  { sideMm, stepMm }: { sideMm: number; stepMm: number },
): Cell[] {
  const side = Math.max(1, Math.round(sideMm / stepMm));
  const cellsPerPart = Math.max(1, Math.round(PART_MM / sideMm));
  const across = Math.ceil(width / side);
  const sums = new Float64Array(across * Math.ceil(height / side));
  const counts = new Float64Array(sums.length);
  for (let i = 0; i < values.length; i++) {
    if (mask.values[i] === 0) continue;
    const cell = Math.floor(Math.floor(i / width) / side) * across + Math.floor((i % width) / side);
    sums[cell] += values[i];
    counts[cell]++;
  }
  const cells: Cell[] = [];
  for (let k = 0; k < sums.length; k++) {
    if (counts[k] === 0) continue;
    const row = Math.floor(Math.floor(k / across) / cellsPerPart);
    const part = row * across + Math.floor((k % across) / cellsPerPart);
    cells.push({ square: sums[k] / counts[k], weight: counts[k], part });
  }
  const covered = cells.filter((cell) => cell.weight > LEAST_COVER * side * side);
  return (covered.length < ENOUGH_CELLS ? cells : covered).sort((p, q) => p.square - q.square);
}

/** Of cells in ascending order. */
function usualOf(cells: readonly Cell[], { tenthOfEven, usualOfEven }: Cells): number | null {
  if (cells.length === 0) return null;
  let usual = quantileOf(cells, SMOOTH_PART) / tenthOfEven;
  for (let round = 0; round < ROUNDS; round++) {
    const most = MOST_TIMES * usual;
    const alike = cells.filter((cell) => cell.square < most);
    if (alike.length === 0) break;
    const median = quantileOf(alike, 0.5);
    if (Math.abs(median - usual) < 1e-6 * usual) break;
    usual = median;
  }
  return usual / usualOfEven;
}

/** Between the middles of the cells' weights; of cells in ascending order. */
function quantileOf(cells: readonly Cell[], part: number): number {
  const total = cells.reduce((sum, { weight }) => sum + weight, 0);
  let passed = 0;
  let before: { at: number; square: number } | null = null;
  for (const { square, weight } of cells) {
    const at = (passed + weight / 2) / total;
    if (at >= part) {
      return before === null
        ? square
        : before.square + ((square - before.square) * (part - before.at)) / (at - before.at);
    }
    passed += weight;
    before = { at, square };
  }
  return cells[cells.length - 1].square;
}
