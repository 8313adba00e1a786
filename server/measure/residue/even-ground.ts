import type { ByteMask, Plane } from '../raster/plane.ts';

/** Mean of a square over one cell of the surface. */
interface Cell {
  readonly square: number;
  /** Pixels that count. */
  readonly weight: number;
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

/** The search starts from the smooth cells, whatever part of the surface is rough. */
const SMOOTH_PART = 0.1;
/** Cells rougher than the usual one by this are of another kind. */
const MOST_TIMES = 1.5;
const ROUNDS = 10;
/** No cell counts for more than so many usual ones: pits and rims of what was left are rougher without end. */
const CUT_TIMES = 2;
/** Parts of the cells between which unevenness is taken. */
const [LOW_PART, HIGH_PART] = [0.05, 0.9];
/** Less than this is rounding. */
const LEAST_SQUARE = 1e-9;

export interface EvenGround {
  /** Mean square of the cells, each cut at twice the usual one. */
  readonly square: number;
  /** Logarithm of how many times the square of the rougher cells is that of the smoother ones. */
  readonly unevenness: number;
  readonly cells: number;
}

/**
 * What a square is on a surface in which patches of something rougher lie. The usual cell is sought from the smoothest tenth
 * upwards (the median of the cells up to 1.5 times itself); what is far rougher counts as twice that, wherever it lies.
 * @returns null where nothing counts
 */
export function evenGround(squares: Plane, mask: ByteMask, on: Cells & { stepMm: number }): EvenGround | null {
  const cells = cellsOf(squares, mask, on);
  if (cells.length === 0) return null;
  const most = CUT_TIMES * usualOf(cells, on);
  let [sum, weights] = [0, 0];
  for (const { square, weight } of cells) {
    sum += weight * Math.min(most, square);
    weights += weight;
  }
  const [low, high] = [quantileOf(cells, LOW_PART), quantileOf(cells, HIGH_PART)];
  return {
    square: sum / weights,
    unevenness: Math.log(Math.max(LEAST_SQUARE, high) / Math.max(LEAST_SQUARE, low)),
    cells: cells.length,
  };
}

/** In ascending order of their squares. */
function cellsOf(
  { width, height, values }: Plane,
  mask: ByteMask,
  { sideMm, stepMm }: { sideMm: number; stepMm: number },
): Cell[] {
  const side = Math.max(1, Math.round(sideMm / stepMm));
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
    if (counts[k] > 0) cells.push({ square: sums[k] / counts[k], weight: counts[k] });
  }
  const covered = cells.filter((cell) => cell.weight > LEAST_COVER * side * side);
  return (covered.length < ENOUGH_CELLS ? cells : covered).sort((p, q) => p.square - q.square);
}

/** Of cells in ascending order, one at least. */
function usualOf(cells: readonly Cell[], { tenthOfEven, usualOfEven }: Cells): number {
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
