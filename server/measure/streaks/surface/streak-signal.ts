import type { ColourAxes } from './colour-axes.ts';
import { robustDeviation } from './robust-deviation.ts';
import type { ReducedSurface } from './reduce-surface.ts';
import { subtractSlowTrend } from './subtract-slow-trend.ts';

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
}

/** Extremes beyond this many robust standard deviations are cut. Chosen on the test bench: rust islands lose, rust stripes stay. */
const CLIP_DEVIATIONS = 3;

/** @param weight of every cell: the surface's own, or less where patches are set aside */
export function streakSignal(
  surface: ReducedSurface,
  axes: ColourAxes,
  weight: Float32Array,
  trendMm: number,
): StreakSignal {
  const { width, height, stepMm } = surface;
  const flat = flatColour(surface, axes, weight, trendMm);
  for (const signal of [flat.lightness, flat.chroma]) cutExtremes(signal, weight);
  return { width, height, stepMm, weight, ...flat };
}

/** Lightness and chroma about their slow change, dE00; extremes are left in. */
export function flatColour(
  surface: ReducedSurface,
  axes: ColourAxes,
  weight: Float32Array,
  trendMm: number,
): { lightness: Float32Array; chroma: Float32Array } {
  const { L, a, b, width, height, stepMm } = surface;
  const { mean, lightnessPerL, chromaPerA, chromaPerB } = axes;
  const lightness = new Float32Array(weight.length);
  const chroma = new Float32Array(weight.length);
  for (let i = 0; i < weight.length; i++) {
    if (weight[i] === 0) continue;
    lightness[i] = lightnessPerL * (L[i] - mean.L);
    chroma[i] = chromaPerA * (a[i] - mean.a) + chromaPerB * (b[i] - mean.b);
  }
  const grid = { width, height, stepMm, sigmaMm: trendMm };
  subtractSlowTrend(lightness, weight, grid);
  subtractSlowTrend(chroma, weight, grid);
  return { lightness, chroma };
}

function cutExtremes(signal: Float32Array, weight: Float32Array): void {
  const limit = CLIP_DEVIATIONS * robustDeviation(signal, weight);
  for (let i = 0; i < signal.length; i++) {
    if (weight[i] === 0) signal[i] = 0;
    else if (signal[i] > limit) signal[i] = limit;
    else if (signal[i] < -limit) signal[i] = -limit;
  }
}
