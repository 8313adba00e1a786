import type { PeriodicWave } from './periodic-wave.ts';

/** Phase of even stripes anywhere on the raster, and where they are strong enough to be there. */
export interface PhaseMap {
  /** Cycles at a place in mm from the raster's corner; whole cycles count stripes. */
  readonly cyclesAt: (x: number, y: number) => number;
  /** Whether the stripes reach this place, and whether they are there in their usual strength. */
  readonly isCovered: (x: number, y: number) => boolean;
  readonly isStrong: (x: number, y: number) => boolean;
  /** Share of the usable area that they reach. */
  readonly coveredShare: number;
}

/** A cell is reached, or strong, where the wave has these shares of its size in the strongest cells. */
const COVERED_SHARE = 0.4;
const STRONG_SHARE = 0.65;
/** The strongest cells begin at this quantile of all, by area. */
const STRONG_QUANTILE = 0.85;

export function phaseMap(periodic: PeriodicWave): PhaseMap {
  const { blocks, phase } = periodic;
  const { wave, along0, across0, alongMm, acrossMm, alongCount, acrossCount, weight } = blocks;
  const smooth = smoothCells(periodic);
  const strongest = strongSize(smooth.size, weight);
  const reached = (share: number): Float64Array =>
    smooth.size.map((size, i) => (weight[i] > 0 && size >= share * strongest ? 1 : 0));
  const covered = reached(COVERED_SHARE);
  const strong = reached(STRONG_SHARE);
  const length = Math.hypot(wave.kx, wave.ky);
  const [nx, ny] = [wave.kx / length, wave.ky / length];
  const rowOf = (x: number, y: number): number => (x * ny - y * nx - along0) / alongMm;
  const columnOf = (x: number, y: number): number => (x * nx + y * ny - across0) / acrossMm;
  const cellOf = (row: number, column: number): number => {
    const r = Math.min(alongCount - 1, Math.max(0, Math.floor(row)));
    return r * acrossCount + Math.min(acrossCount - 1, Math.max(0, Math.floor(column)));
  };
  const [c0, c1, c2, c3, c4, c5] = phase.coefficients;
  return {
    cyclesAt: (x, y) => {
      const row = rowOf(x, y);
      const column = columnOf(x, y);
      const s = row - alongCount / 2;
      const t = column - acrossCount / 2;
      const slow = c0 + c1 * s + c2 * t + c3 * s * s + c4 * s * t + c5 * t * t;
      return x * wave.kx + y * wave.ky + (slow + smooth.turn[cellOf(row, column)]) / (2 * Math.PI);
    },
    isCovered: (x, y) => covered[cellOf(rowOf(x, y), columnOf(x, y))] === 1,
    isStrong: (x, y) => strong[cellOf(rowOf(x, y), columnOf(x, y))] === 1,
    coveredShare: shareOf(covered, weight),
  };
}

/** What the polynomial left, averaged over neighbours: strokes wander, but keep their distance over a few periods. */
function smoothCells({ blocks, phase }: PeriodicWave): { size: Float64Array; turn: Float64Array } {
  const { alongCount, acrossCount, weight } = blocks;
  const size = new Float64Array(weight.length);
  const turn = new Float64Array(weight.length);
  for (let row = 0, i = 0; row < alongCount; row++) {
    for (let column = 0; column < acrossCount; column++, i++) {
      let [re, im, total] = [0, 0, 0];
      for (let r = Math.max(0, row - 1); r < Math.min(alongCount, row + 2); r++) {
        for (let c = Math.max(0, column - 1); c < Math.min(acrossCount, column + 2); c++) {
          const j = r * acrossCount + c;
          const w = weight[j] * (c === column ? 1 : 0.3);
          re += w * phase.re[j];
          im += w * phase.im[j];
          total += w;
        }
      }
      size[i] = total > 0 ? Math.hypot(re, im) / total : 0;
      turn[i] = Math.atan2(im, re);
    }
  }
  return { size, turn };
}

function strongSize(size: Float64Array, weight: Float64Array): number {
  const order = [...size.keys()].filter((i) => weight[i] > 0).sort((a, b) => size[a] - size[b]);
  const total = order.reduce((sum, i) => sum + weight[i], 0);
  let below = 0;
  for (const i of order) {
    below += weight[i];
    if (below >= STRONG_QUANTILE * total) return size[i];
  }
  return 0;
}

function shareOf(covered: Float64Array, weight: Float64Array): number {
  let [inside, total] = [0, 0];
  for (let i = 0; i < weight.length; i++) {
    total += weight[i];
    if (covered[i] === 1) inside += weight[i];
  }
  return total > 0 ? inside / total : 0;
}
