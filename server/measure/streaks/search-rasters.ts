import type { BandSearch } from './bands/band-candidate.ts';
import { colourAxes } from './surface/colour-axes.ts';
import type { ColourAxes } from './surface/colour-axes.ts';
import { groundWeight, groundWeightOn } from './surface/ground-weight.ts';
import { reduceSurface } from './surface/reduce-surface.ts';
import type { ReducedSurface, WeighedSurface } from './surface/reduce-surface.ts';
import { streakSignal } from './surface/streak-signal.ts';
import type { StreakSignal } from './surface/streak-signal.ts';
import type { ScaleSearch } from './waves/periodic-stripes.ts';

/** Sides of the cells, mm: fine for pitches from 1.3 mm and for profiles, coarse for wide pitches and directions. */
const FINE_MM = 0.55;
const COARSE_MM = 1.3;
/** Coarse cells at most; a larger zone is looked at more coarsely. */
const MOST_COARSE_CELLS = 22_000;
/** Slow change is what a Gaussian of these deviations leaves, mm. */
const TREND_MM = { fine: 15, coarse: 40 } as const;
/** Pitches sought on each raster, mm. Fine ones need 2.3 cells to a period. */
const PITCHES_MM = { least: 1.3, cells: 2.3, fineMost: 13, coarseLeast: 9, most: 36 } as const;
/** With less of it in patches the ground is the whole. */
const LEAST_PATCHES = 0.02;

/** A surface reduced to two rasters, with the signals that several searches need. */
export interface SearchRasters {
  readonly fine: ReducedSurface;
  readonly coarse: ReducedSurface;
  /** Fine cells per side of a coarse one. */
  readonly factor: number;
  readonly axes: ColourAxes;
  readonly coarseWhole: StreakSignal;
  /** Null where the surface has hardly any patches. */
  readonly coarseGround: StreakSignal | null;
}

export function searchRasters(native: WeighedSurface): SearchRasters {
  const fine = reduceSurface(native, Math.max(1, Math.floor(FINE_MM / native.stepMm + 1e-6)));
  const factor = Math.max(1, Math.round(Math.max(COARSE_MM, coarsestFor(native)) / fine.stepMm));
  const coarse = reduceSurface(fine, factor);
  const axes = colourAxes(coarse);
  const coarseWhole = streakSignal(coarse, axes, coarse.weight, TREND_MM.coarse);
  const ground = groundWeight(coarse, coarseWhole, TREND_MM.coarse);
  const isPatchy = sumOf(ground) < (1 - LEAST_PATCHES) * sumOf(coarse.weight);
  const coarseGround = isPatchy ? streakSignal(coarse, axes, ground, TREND_MM.coarse) : null;
  return { fine, coarse, factor, axes, coarseWhole, coarseGround };
}

const sumOf = (values: Float32Array): number => values.reduce((sum, v) => sum + v, 0);

/** Where even stripes are sought: short pitches on the fine raster, wide ones on the coarse. */
export function waveSearches({ fine, axes, coarse, coarseWhole, coarseGround }: SearchRasters): ScaleSearch[] {
  const wide = {
    shortestMm: Math.max(PITCHES_MM.coarseLeast, PITCHES_MM.cells * coarse.stepMm),
    longestMm: PITCHES_MM.most,
  };
  return [
    {
      signal: streakSignal(fine, axes, fine.weight, TREND_MM.fine),
      shortestMm: Math.max(PITCHES_MM.least, PITCHES_MM.cells * fine.stepMm),
      longestMm: PITCHES_MM.fineMost,
    },
    { signal: coarseWhole, ...wide },
    ...(coarseGround === null ? [] : [{ signal: coarseGround, ...wide }]),
  ];
}

/** Where bands are sought: on the whole surface, then on the ground between its patches. */
export function bandSearches(rasters: SearchRasters): (() => BandSearch)[] {
  const { fine, axes, coarse, factor, coarseWhole, coarseGround } = rasters;
  const fineSignal = (weight: Float32Array): StreakSignal => streakSignal(fine, axes, weight, TREND_MM.coarse);
  const whole = (): BandSearch => ({ coarse: coarseWhole, fine: fineSignal(fine.weight) });
  if (coarseGround === null) return [whole];
  const ground = (): BandSearch => ({
    coarse: coarseGround,
    fine: fineSignal(groundWeightOn(fine, { surface: coarse, ground: coarseGround.weight, factor })),
  });
  return [whole, ground];
}

const coarsestFor = (native: WeighedSurface): number =>
  Math.sqrt((native.width * native.height) / MOST_COARSE_CELLS) * native.stepMm;
