import { solveSymmetric } from '../geometry/solve-symmetric.ts';

/** Texture that one flat grey shows. */
export interface GreyNoise {
  readonly lightness: number;
  /** Mean square, CIEDE2000 squared. */
  readonly square: number;
}

export interface NoiseCurve {
  readonly squareAt: (lightness: number) => number;
  /** Standard deviation of the curve as part of itself. */
  readonly relativeSigma: number;
}

/** Coefficients of the parabola through the logarithms. */
const TERMS = 3;
const [MIDDLE_L, SPAN_L] = [50, 40];
const ROUNDS = 12;
/** Tukey's biweight leaves out what is off by more than this many deviations: dirt, glare and shadow edges. Source: [TUKEY1977]. */
const TUKEY = 4.685;
/** Deviations are the median of their size over this. */
const MEDIAN_DEVIATE = 0.6745;
const LEAST_DEVIATION = 0.02;
/** Less than this is no noise but rounding. */
const LEAST_SQUARE = 1e-8;

/**
 * Noise over lightness as a parabola through the logarithms, with outliers left out. Noise of sensors and of their tone
 * curves changes smoothly with lightness; single greys of a few millimetres scatter, and dirt on one of them only adds.
 * @returns null without greys; of few greys the median
 */
export function fitNoiseCurve(greys: readonly GreyNoise[]): NoiseCurve | null {
  if (greys.length === 0) return null;
  const logs = greys.map(({ square }) => Math.log(Math.max(LEAST_SQUARE, square)));
  const flat: NoiseCurve = { squareAt: () => Math.exp(median(logs)), relativeSigma: 0.5 };
  if (greys.length < 2 * TERMS) return flat;
  const rows = greys.map(({ lightness }) => termsAt(lightness));
  const lightest = Math.max(...greys.map(({ lightness }) => lightness));
  const darkest = Math.min(...greys.map(({ lightness }) => lightness));
  let weights = greys.map(() => 1);
  let fit = solve(rows, logs, weights);
  let deviation = 0;
  for (let round = 0; round < ROUNDS && fit !== null; round++) {
    const off = offsets(rows, logs, fit);
    deviation = Math.max(LEAST_DEVIATION, median(off.map(Math.abs)) / MEDIAN_DEVIATE);
    weights = off.map((r) => Math.max(0, 1 - (r / (TUKEY * deviation)) ** 2) ** 2);
    fit = solve(rows, logs, weights);
  }
  if (fit === null) return flat;
  const coefficients = fit;
  return {
    // Beyond the greys there is nothing to go by.
    squareAt: (lightness) => Math.exp(dot(termsAt(Math.min(lightest, Math.max(darkest, lightness))), coefficients)),
    relativeSigma: deviation * Math.sqrt(TERMS / greys.length),
  };
}

function termsAt(lightness: number): number[] {
  const x = (lightness - MIDDLE_L) / SPAN_L;
  return [1, x, x * x];
}

const dot = (row: readonly number[], fit: ArrayLike<number>): number => row.reduce((sum, v, k) => sum + v * fit[k], 0);

const offsets = (rows: readonly number[][], logs: readonly number[], fit: ArrayLike<number>): number[] =>
  rows.map((row, i) => logs[i] - dot(row, fit));

function solve(rows: readonly number[][], logs: readonly number[], weights: readonly number[]): Float64Array | null {
  const matrix = new Float64Array(TERMS * TERMS);
  const right = new Float64Array(TERMS);
  rows.forEach((row, i) => {
    for (let p = 0; p < TERMS; p++) {
      right[p] += weights[i] * row[p] * logs[i];
      for (let q = 0; q < TERMS; q++) matrix[p * TERMS + q] += weights[i] * row[p] * row[q];
    }
  });
  return solveSymmetric(matrix, right, TERMS);
}

const median = (values: readonly number[]): number => [...values].sort((p, q) => p - q)[values.length >> 1];
