import { ciede2000Metric } from '../colour/ciede2000.ts';
import type { Lab } from '../colour/cie-lab.ts';
import type { ReducedSurface } from './reduce-surface.ts';
import { slowTrend } from './slow-trend.ts';

/**
 * The surface as two signals whose squares add to CIEDE2000 squared for small steps: lightness, and the direction in which
 * chroma varies most. Both are freed of slow change and of extremes, so that single patches of rust do not rule them.
 */
export interface StreakSignal {
  readonly width: number;
  readonly height: number;
  readonly stepMm: number;
  readonly weight: Float32Array;
  readonly lightness: Float32Array;
  readonly chroma: Float32Array;
  readonly axes: ColourAxes;
}

/** Rows that turn a small step (dL, da, db) into the two signals. */
export interface ColourAxes {
  readonly mean: Lab;
  readonly lightnessPerL: number;
  readonly chromaPerA: number;
  readonly chromaPerB: number;
}

/** Extremes beyond this many robust standard deviations are cut. Chosen on the test bench: rust islands lose, rust stripes stay. */
const CLIP_DEVIATIONS = 3;

export function streakSignal(surface: ReducedSurface, trendMm: number): StreakSignal {
  return streakSignalWith(surface, colourAxes(surface), surface.weight, trendMm);
}

function streakSignalWith(surface: ReducedSurface, axes: ColourAxes, weight: Float32Array, trendMm: number): StreakSignal {
  const { width, height, stepMm } = surface;
  const lightness = new Float32Array(width * height);
  const chroma = new Float32Array(width * height);
  for (let i = 0; i < weight.length; i++) {
    if (surface.weight[i] === 0) continue;
    lightness[i] = axes.lightnessPerL * (surface.L[i] - axes.mean.L);
    chroma[i] = axes.chromaPerA * (surface.a[i] - axes.mean.a) + axes.chromaPerB * (surface.b[i] - axes.mean.b);
  }
  const grid = { width, height, stepMm };
  for (const signal of [lightness, chroma]) flatten(signal, weight, grid, trendMm);
  return { ...grid, weight, lightness, chroma, axes };
}

/** Pixels this many robust deviations off the ground belong to patches, not to it. */
const GROUND_DEVIATIONS = 2;
/** What weight they keep, so that no part of the raster is lost. */
const PATCH_WEIGHT = 0.04;

/** The same surface with its patches of other material set aside: faint stripes on the ground between them come out. */
export function groundSignal(surface: ReducedSurface, whole: StreakSignal, trendMm: number): StreakSignal {
  const { width, height, stepMm, axes } = whole;
  const weight = Float32Array.from(whole.weight);
  const limits = [whole.lightness, whole.chroma].map((signal) => GROUND_DEVIATIONS * robustDeviation(signal, weight));
  for (let i = 0; i < weight.length; i++) {
    if (Math.abs(whole.lightness[i]) > limits[0] || Math.abs(whole.chroma[i]) > limits[1]) weight[i] *= PATCH_WEIGHT;
  }
  return { ...streakSignalWith(surface, axes, weight, trendMm), width, height, stepMm };
}

function flatten(
  signal: Float32Array,
  weight: Float32Array,
  grid: { width: number; height: number; stepMm: number },
  trendMm: number,
): void {
  slowTrend(signal, weight, { ...grid, sigmaMm: trendMm }, (i, trend) => {
    signal[i] -= trend;
  });
  const limit = CLIP_DEVIATIONS * robustDeviation(signal, weight);
  for (let i = 0; i < signal.length; i++) {
    if (weight[i] === 0) signal[i] = 0;
    else if (signal[i] > limit) signal[i] = limit;
    else if (signal[i] < -limit) signal[i] = -limit;
  }
}

/** Standard deviation from the median distance to 0, for a signal about 0: 1.4826 times it for normal noise. */
export function robustDeviation(signal: Float32Array, weight: Float32Array): number {
  const stride = Math.max(1, Math.floor(signal.length / 8000)) | 1;
  const sizes: number[] = [];
  for (let i = 0; i < signal.length; i += stride) if (weight[i] > 0.5) sizes.push(Math.abs(signal[i]));
  if (sizes.length === 0) return 0;
  const sorted = Float64Array.from(sizes).sort();
  return 1.4826 * sorted[sorted.length >> 1];
}

function colourAxes(surface: ReducedSurface): ColourAxes {
  const mean = meanLab(surface);
  const metric = ciede2000Metric(mean);
  // Cholesky factor of the metric's chroma block: rows of (da, db) whose squares add to the metric.
  const root = Math.sqrt(metric[4]);
  const first = [root, metric[5] / root] as const;
  const second = [0, Math.sqrt(Math.max(0, metric[8] - first[1] * first[1]))] as const;
  const turn = mainDirection(surface, mean, [first, second]);
  return {
    mean,
    lightnessPerL: Math.sqrt(metric[0]),
    chromaPerA: turn[0] * first[0] + turn[1] * second[0],
    chromaPerB: turn[0] * first[1] + turn[1] * second[1],
  };
}

function meanLab({ L, a, b, weight }: ReducedSurface): Lab {
  const sum = { L: 0, a: 0, b: 0, weight: 0 };
  for (let i = 0; i < weight.length; i++) {
    const w = weight[i];
    sum.L += w * L[i];
    sum.a += w * a[i];
    sum.b += w * b[i];
    sum.weight += w;
  }
  const n = Math.max(sum.weight, 1e-9);
  return { L: sum.L / n, a: sum.a / n, b: sum.b / n };
}

/** Unit vector of the largest variance of the two chroma coordinates. */
function mainDirection(
  surface: ReducedSurface,
  mean: Lab,
  [first, second]: readonly (readonly [number, number])[],
): [number, number] {
  let [xx, xy, yy] = [0, 0, 0];
  for (let i = 0; i < surface.weight.length; i++) {
    const da = surface.a[i] - mean.a;
    const db = surface.b[i] - mean.b;
    const x = first[0] * da + first[1] * db;
    const y = second[0] * da + second[1] * db;
    const w = surface.weight[i];
    xx += w * x * x;
    xy += w * x * y;
    yy += w * y * y;
  }
  const angle = 0.5 * Math.atan2(2 * xy, xx - yy);
  return [Math.cos(angle), Math.sin(angle)];
}
