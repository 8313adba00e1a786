import type { StreakSignal } from '../surface/streak-signal.ts';

/** Wave vector per mm on the raster; it points across the stripes. */
export interface WaveVector {
  readonly kx: number;
  readonly ky: number;
}

/** Complex amplitude of one wave in cells of a raster turned along the stripes: rows lie across, columns along them. */
export interface StripeBlocks {
  readonly wave: WaveVector;
  /** Places of the first cell's corner along the stripes and across them, mm: along = x ny - y nx, across = x nx + y ny. */
  readonly along0: number;
  readonly across0: number;
  /** Cells along the stripes and across them. */
  readonly alongCount: number;
  readonly acrossCount: number;
  readonly alongMm: number;
  readonly acrossMm: number;
  /** Usable pixels per cell. */
  readonly weight: Float64Array;
  /** Amplitude of the wave in the colour direction that carries it, dE00: the stripes swing by this about their mean. */
  readonly re: Float64Array;
  readonly im: Float64Array;
  /** Share of the wave's energy carried by lightness and by chroma: unit vector; relative sign as seen. */
  readonly colour: readonly [lightness: number, chroma: number];
}

export interface BlockSize {
  readonly alongMm: number;
  readonly acrossMm: number;
}

/** Cells with less than this share of usable area tell nothing. */
const LEAST_FILL = 0.3;

export function stripeBlocks(signal: StreakSignal, wave: WaveVector, size: BlockSize): StripeBlocks {
  const { stepMm } = signal;
  const length = Math.hypot(wave.kx, wave.ky);
  const [nx, ny] = [wave.kx / length, wave.ky / length];
  const corners = [
    [0, 0],
    [signal.width * stepMm, 0],
    [0, signal.height * stepMm],
    [signal.width * stepMm, signal.height * stepMm],
  ];
  const range = (f: (x: number, y: number) => number): [number, number] => {
    const values = corners.map(([x, y]) => f(x, y));
    return [Math.min(...values), Math.max(...values)];
  };
  const [across0, across1] = range((x, y) => x * nx + y * ny);
  const [along0, along1] = range((x, y) => x * ny - y * nx);
  const frame: Frame = {
    nx,
    ny,
    along0,
    across0,
    alongCount: Math.max(1, Math.round((along1 - along0) / size.alongMm)),
    acrossCount: Math.max(1, Math.round((across1 - across0) / size.acrossMm)),
    alongMm: 0,
    acrossMm: 0,
  };
  frame.alongMm = (along1 - along0) / frame.alongCount;
  frame.acrossMm = (across1 - across0) / frame.acrossCount;
  const sums = sumBlocks(signal, wave, frame);
  return combineChannels(wave, frame, sums, stepMm);
}

interface Frame {
  nx: number;
  ny: number;
  along0: number;
  across0: number;
  alongCount: number;
  acrossCount: number;
  alongMm: number;
  acrossMm: number;
}

/** Sums of a cell, side by side: weight, wave of the weight, then of lightness and of chroma the sum and its wave. */
const SUMS = {
  n: 0,
  re: 1,
  im: 2,
  light: 3,
  lightRe: 4,
  lightIm: 5,
  chroma: 6,
  chromaRe: 7,
  chromaIm: 8,
  count: 9,
} as const;

function sumBlocks(signal: StreakSignal, wave: WaveVector, frame: Frame): Float64Array {
  const sums = new Float64Array(frame.alongCount * frame.acrossCount * SUMS.count);
  const { width, height, stepMm, weight, lightness, chroma } = signal;
  const turn = 2 * Math.PI * stepMm;
  const [stepRe, stepIm] = [Math.cos(turn * wave.kx), -Math.sin(turn * wave.kx)];
  const { nx, ny, along0, across0, alongMm, acrossMm, alongCount, acrossCount } = frame;
  const [rowStep, columnStep] = [(ny * stepMm) / alongMm, (nx * stepMm) / acrossMm];
  for (let y = 0, i = 0; y < height; y++) {
    const py = (y + 0.5) * stepMm;
    const start = turn * (0.5 * wave.kx + (y + 0.5) * wave.ky);
    let [re, im] = [Math.cos(start), -Math.sin(start)];
    let row = (0.5 * stepMm * ny - py * nx - along0) / alongMm;
    let column = (0.5 * stepMm * nx + py * ny - across0) / acrossMm;
    for (let x = 0; x < width; x++, i++, row += rowStep, column += columnStep) {
      const w = weight[i];
      if (w > 0) {
        const r = row < alongCount ? row | 0 : alongCount - 1;
        const at = (r * acrossCount + (column < acrossCount ? column | 0 : acrossCount - 1)) * SUMS.count;
        const [wr, wi, light, colour] = [w * re, w * im, lightness[i], chroma[i]];
        sums[at] += w;
        sums[at + 1] += wr;
        sums[at + 2] += wi;
        sums[at + 3] += w * light;
        sums[at + 4] += wr * light;
        sums[at + 5] += wi * light;
        sums[at + 6] += w * colour;
        sums[at + 7] += wr * colour;
        sums[at + 8] += wi * colour;
      }
      const held = re * stepRe - im * stepIm;
      im = re * stepIm + im * stepRe;
      re = held;
    }
  }
  return sums;
}

/** Per cell the waves of both signals, freed of the cell's mean, which would leak in where it does not hold whole periods. */
interface CellWaves {
  readonly weight: Float64Array;
  readonly light: readonly [re: Float64Array, im: Float64Array];
  readonly chroma: readonly [re: Float64Array, im: Float64Array];
}

function cellWaves(sums: Float64Array, least: number): CellWaves {
  const count = sums.length / SUMS.count;
  const cells = (): Float64Array => new Float64Array(count);
  const weight = cells();
  const [light, chroma] = [[cells(), cells()] as const, [cells(), cells()] as const];
  for (let i = 0; i < count; i++) {
    const at = i * SUMS.count;
    const n = sums[at + SUMS.n];
    if (n < least) continue;
    weight[i] = n;
    const [meanLight, meanChroma] = [sums[at + SUMS.light] / n, sums[at + SUMS.chroma] / n];
    light[0][i] = sums[at + SUMS.lightRe] - meanLight * sums[at + SUMS.re];
    light[1][i] = sums[at + SUMS.lightIm] - meanLight * sums[at + SUMS.im];
    chroma[0][i] = sums[at + SUMS.chromaRe] - meanChroma * sums[at + SUMS.re];
    chroma[1][i] = sums[at + SUMS.chromaIm] - meanChroma * sums[at + SUMS.im];
  }
  return { weight, light, chroma };
}

/** Both signals become one, in the colour direction that carries most of the wave. */
function combineChannels(wave: WaveVector, frame: Frame, sums: Float64Array, stepMm: number): StripeBlocks {
  const { alongCount, acrossCount, alongMm, acrossMm, along0, across0 } = frame;
  const { weight, light, chroma } = cellWaves(sums, (LEAST_FILL * alongMm * acrossMm) / (stepMm * stepMm));
  let [ll, lc, cc] = [0, 0, 0];
  for (let i = 0; i < weight.length; i++) {
    const n = weight[i];
    if (n === 0) continue;
    ll += (light[0][i] ** 2 + light[1][i] ** 2) / n;
    lc += (light[0][i] * chroma[0][i] + light[1][i] * chroma[1][i]) / n;
    cc += (chroma[0][i] ** 2 + chroma[1][i] ** 2) / n;
  }
  const turn = 0.5 * Math.atan2(2 * lc, ll - cc);
  const colour = [Math.cos(turn), Math.sin(turn)] as const;
  const mixed = (part: 0 | 1): Float64Array =>
    weight.map((n, i) => (n === 0 ? 0 : (2 * (colour[0] * light[part][i] + colour[1] * chroma[part][i])) / n));
  const [re, im] = [mixed(0), mixed(1)];
  return { wave, along0, across0, alongCount, acrossCount, alongMm, acrossMm, weight, re, im, colour };
}
