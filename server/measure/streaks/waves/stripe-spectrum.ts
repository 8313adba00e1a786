import { fourierSquare } from './fourier-square.ts';
import type { StreakSignal } from '../surface/streak-signal.ts';

/** Mean power of a signal over tiles, by wave number. */
export interface StripeSpectrum {
  readonly side: number;
  /** Power per bin, rows v, columns u, both wrapped: bin n above side/2 is n - side. */
  readonly power: Float32Array;
  /** Wave number of one bin, per mm. */
  readonly binPerMm: number;
  readonly tiles: number;
}

const SIDE = 128;
/** Tiles at most: their mean is steady enough, and time is short. */
const MOST_TILES = 25;
/** Share of a tile's window that must be usable. */
const LEAST_FILL = 0.35;

/**
 * Welch's mean of windowed spectra over half-overlapping tiles. Lightness and chroma ride as the real and the imaginary
 * part of one transform: |Z(k)|^2 + |Z(-k)|^2 is twice the sum of their powers.
 *
 * | out: power | dE00 squared per bin, scaled so that white noise of variance s^2 gives s^2 |
 *
 * Stripes may bend or drift from tile to tile; within a tile they should stay within a bin.
 * Source: P. D. Welch, IEEE Trans. Audio Electroacoust. 15(2), 70-73 (1967) [WELCH1967].
 */
export function stripeSpectrum(signal: StreakSignal): StripeSpectrum {
  const power = new Float32Array(SIDE * SIDE);
  const re = new Float32Array(SIDE * SIDE);
  const im = new Float32Array(SIDE * SIDE);
  const transform = fourierSquare(SIDE);
  const window = Float32Array.from({ length: SIDE }, (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * (i + 0.5)) / SIDE));
  let total = 0;
  let tiles = 0;
  for (const [left, top] of tileCorners(signal.width, signal.height)) {
    const share = fillTile(signal, { left, top, window }, re, im);
    if (share < LEAST_FILL) continue;
    transform(re, im);
    for (let i = 0; i < power.length; i++) power[i] += re[i] * re[i] + im[i] * im[i];
    total += share;
    tiles++;
  }
  const energy = window.reduce((sum, w) => sum + w * w, 0) ** 2;
  foldOpposite(power, 1 / Math.max(total * energy, 1e-9));
  return { side: SIDE, power, binPerMm: 1 / (SIDE * signal.stepMm), tiles };
}

function tileCorners(width: number, height: number): [number, number][] {
  const places = (size: number, count: number): number[] =>
    size <= SIDE
      ? [Math.round((size - SIDE) / 2)]
      : Array.from({ length: count }, (_, i) => Math.round((i * (size - SIDE)) / (count - 1)));
  const wanted = (size: number): number => (size <= SIDE ? 1 : 1 + Math.ceil((size - SIDE) / (SIDE / 2)));
  let columns = wanted(width);
  let rows = wanted(height);
  while (columns * rows > MOST_TILES) {
    if (columns > rows) columns--;
    else rows--;
  }
  return places(height, rows).flatMap((top) => places(width, columns).map((left): [number, number] => [left, top]));
}

/** Writes one windowed tile, freed of its mean; returns the usable share of the window's energy. */
function fillTile(
  signal: StreakSignal,
  tile: { left: number; top: number; window: Float32Array },
  re: Float32Array,
  im: Float32Array,
): number {
  const { left, top, window } = tile;
  let [sum, light, chroma, energy, full] = [0, 0, 0, 0, 0];
  for (let y = 0, i = 0; y < SIDE; y++) {
    const row = top + y;
    const inside = row >= 0 && row < signal.height;
    for (let x = 0; x < SIDE; x++, i++) {
      const w0 = window[x] * window[y];
      full += w0 * w0;
      const column = left + x;
      const from = row * signal.width + column;
      if (!inside || column < 0 || column >= signal.width || signal.weight[from] === 0) {
        re[i] = im[i] = 0;
        continue;
      }
      const w = w0 * signal.weight[from];
      sum += w;
      energy += w * w;
      light += w * (re[i] = signal.lightness[from]);
      chroma += w * (im[i] = signal.chroma[from]);
    }
  }
  const meanLight = light / Math.max(sum, 1e-9);
  const meanChroma = chroma / Math.max(sum, 1e-9);
  for (let y = 0, i = 0; y < SIDE; y++) {
    const row = top + y;
    const inside = row >= 0 && row < signal.height;
    for (let x = 0; x < SIDE; x++, i++) {
      const column = left + x;
      if (!inside || column < 0 || column >= signal.width) continue;
      const w = window[x] * window[y] * signal.weight[row * signal.width + column];
      re[i] = w * (re[i] - meanLight);
      im[i] = w * (im[i] - meanChroma);
    }
  }
  return energy / full;
}

/** power[k] becomes (power[k] + power[-k]) / 2 times scale. */
function foldOpposite(power: Float32Array, scale: number): void {
  const mask = SIDE - 1;
  for (let v = 0; v < SIDE; v++) {
    for (let u = 0; u < SIDE; u++) {
      const here = v * SIDE + u;
      const there = (-v & mask) * SIDE + (-u & mask);
      if (there < here) continue;
      const mean = (power[here] + power[there]) * 0.5 * scale;
      power[here] = mean;
      power[there] = mean;
    }
  }
}
