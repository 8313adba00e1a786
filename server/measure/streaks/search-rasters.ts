import type { FilmShares } from './native-surface.ts';
import type { BandGround, BandLook, BandSearch } from './bands/band-candidate.ts';
import { colourAxes } from './surface/colour-axes.ts';
import type { ColourAxes } from './surface/colour-axes.ts';
import { groundSurface } from './surface/ground-surface.ts';
import { groundWeight, groundWeightOn, leftGroundWeight } from './surface/ground-weight.ts';
import { reduceSurface } from './surface/reduce-surface.ts';
import type { ReducedSurface, WeighedSurface } from './surface/reduce-surface.ts';
import { residueSignal, residueStep, shareSignal } from './surface/residue-signal.ts';
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
/** With less of it in patches the ground is the whole; with less ground than the other there is none to look at. */
const LEAST_PATCHES = 0.02;
const LEAST_GROUND = 0.2;
/** Residue differs from the ground by no more, dE00, for weighing a change in its share. */
const MOST_RESIDUE_STEP = 20;

/** A surface reduced to two rasters, with the signals that several searches need. */
export interface SearchRasters {
  /** Mean probability of residue in the zone; null where nobody said what is residue. */
  readonly residueShare: number | null;
  readonly whole: Look;
  /** Null where the surface has hardly any patches, or little else. */
  readonly ground: Look | null;
  /** The surface as it came, without residue; null where nobody said what is residue. */
  readonly withoutResidue: WeighedSurface | null;
  /** Share of residue as a signal; null where nobody said what is residue, or hardly any is. */
  readonly residue: Look | null;
  /** Shares of single classes, where they tell more than that of all residue. */
  readonly stain: Look | null;
  readonly rust: Look | null;
  readonly scale: Look | null;
  /** Probability that dwell was lacking; null where nobody told. */
  readonly underDwell: Look | null;
}

/** One way to look at the surface. */
interface Look {
  readonly fine: ReducedSurface;
  readonly coarseSignal: StreakSignal;
  /** @param trendMm deviation of the Gaussian that takes slow change off */
  readonly fineSignal: (trendMm: number) => StreakSignal;
}

/** @param films probability of the classes that streaks leave; null where nobody told classes apart */
export function searchRasters(native: WeighedSurface, films: FilmShares | null): SearchRasters {
  const whole = reduceTwice(native);
  const axes = colourAxes(whole.coarse);
  const coarseSignal = streakSignal(whole.coarse, axes, whole.coarse.weight, TREND_MM.coarse);
  const withoutResidue = groundSurface(native);
  return {
    residueShare: residueShare(whole.coarse),
    whole: {
      fine: whole.fine,
      coarseSignal,
      fineSignal: (trendMm) => streakSignal(whole.fine, axes, whole.fine.weight, trendMm),
    },
    withoutResidue,
    ground: groundLook(withoutResidue, { ...whole, axes, coarseSignal }),
    residue: residueLook(whole),
    stain: filmLook(native, films?.stain ?? null),
    rust: filmLook(native, films?.rust ?? null),
    scale: filmLook(native, films?.scale ?? null),
    underDwell: underDwellLook(whole),
  };
}

function residueShare({ weight, residue }: ReducedSurface): number | null {
  if (residue === null) return null;
  return residue.reduce((sum, share, i) => sum + weight[i] * share, 0) / Math.max(sumOf(weight), 1e-9);
}

/** With a larger part of it in one class all residue shows the same. */
const MOST_OF_RESIDUE = 0.95;

function filmLook(native: WeighedSurface, share: Float32Array | null): Look | null {
  if (share === null || native.residue === null) return null;
  let [film, residue, shared] = [0, 0, 0];
  for (let i = 0; i < share.length; i++) {
    if (native.weight[i] === 0) continue;
    film += share[i];
    residue += native.residue[i];
    shared += Math.min(share[i], native.residue[i]);
  }
  if (shared > MOST_OF_RESIDUE * Math.max(film, residue)) return null;
  return residueLook(reduceTwice({ ...native, residue: share }));
}

interface TwoRasters {
  readonly fine: ReducedSurface;
  readonly coarse: ReducedSurface;
  /** Fine cells per side of a coarse one. */
  readonly factor: number;
}

function reduceTwice(native: WeighedSurface): TwoRasters {
  const fine = reduceSurface(native, Math.max(1, Math.floor(FINE_MM / native.stepMm + 1e-6)));
  const factor = Math.max(1, Math.round(Math.max(COARSE_MM, coarsestFor(native)) / fine.stepMm));
  return { fine, coarse: reduceSurface(fine, factor), factor };
}

const sumOf = (values: Float32Array): number => values.reduce((sum, v) => sum + v, 0);

function groundLook(
  left: WeighedSurface | null,
  whole: TwoRasters & { readonly axes: ColourAxes; readonly coarseSignal: StreakSignal },
): Look | null {
  const rasters = left === null ? whole : reduceTwice(left);
  const { fine, coarse, factor } = rasters;
  const all = sumOf(whole.coarse.weight);
  if (sumOf(coarse.weight) < LEAST_GROUND * all) return null;
  const axes = left === null ? whole.axes : colourAxes(coarse);
  const ground =
    left === null
      ? groundWeight(coarse, axes, whole.coarseSignal, TREND_MM.coarse)
      : leftGroundWeight(coarse, axes, TREND_MM.coarse);
  if (sumOf(ground) > (1 - LEAST_PATCHES) * all) return null;
  const fineWeight = groundWeightOn(fine, { surface: coarse, ground, factor });
  return {
    fine,
    coarseSignal: streakSignal(coarse, axes, ground, TREND_MM.coarse),
    fineSignal: (trendMm) => streakSignal(fine, axes, fineWeight, trendMm),
  };
}

/** Share of residue as if it were darkness: torn films show as more of it in a stripe, whatever their colour. */
function residueLook({ fine, coarse }: TwoRasters): Look | null {
  const step = residueStep(coarse);
  if (step === null) return null;
  const look = (surface: ReducedSurface, trendMm: number): StreakSignal =>
    residueSignal(surface, Math.min(step, MOST_RESIDUE_STEP), trendMm);
  return {
    fine,
    coarseSignal: look(coarse, TREND_MM.coarse),
    fineSignal: (trendMm) => look(fine, trendMm),
  };
}

/** What sure lack of dwell counts as, dE00. */
const UNDER_DWELL_STEP = 10;

function underDwellLook({ fine, coarse }: TwoRasters): Look | null {
  if (fine.underDwell === null) return null;
  const look = (surface: ReducedSurface, trendMm: number): StreakSignal =>
    shareSignal(surface, surface.underDwell, UNDER_DWELL_STEP, trendMm);
  return { fine, coarseSignal: look(coarse, TREND_MM.coarse), fineSignal: (trendMm) => look(fine, trendMm) };
}

/** Where even stripes are sought: short pitches on the fine raster, wide ones on the coarse. */
export function waveSearches({ whole, ground, residue, underDwell }: SearchRasters): ScaleSearch[] {
  const looks = [whole, ground, residue, underDwell].filter((look) => look !== null);
  const fine = looks.map((look) => ({
    signal: look.fineSignal(TREND_MM.fine),
    shortestMm: Math.max(PITCHES_MM.least, PITCHES_MM.cells * look.fine.stepMm),
    longestMm: PITCHES_MM.fineMost,
  }));
  const coarse = looks.map(({ coarseSignal }) => ({
    signal: coarseSignal,
    shortestMm: Math.max(PITCHES_MM.coarseLeast, PITCHES_MM.cells * coarseSignal.stepMm),
    longestMm: PITCHES_MM.most,
  }));
  return [...fine, ...coarse];
}

/** Where bands are sought: on the whole surface, on the ground between its patches, in shares of residue and classes, and in lack of dwell. */
export function bandSearches(rasters: SearchRasters): BandSearch[] {
  const { whole, ground, residue, stain, rust, scale, underDwell } = rasters;
  const searchOf = (kind: BandLook, look: Look | null): BandSearch[] =>
    look === null
      ? []
      : [{ coarse: look.coarseSignal, fine: look.fineSignal(TREND_MM.coarse), surface: look.fine, look: kind }];
  return [
    ...searchOf('whole', whole),
    ...searchOf('ground', ground),
    ...searchOf('residue', residue),
    ...[stain, rust, scale].flatMap((look) => searchOf('class', look)),
    ...searchOf('under-dwell', underDwell),
  ];
}

/** What is known of the zone as a whole, for weighing bands. */
export const bandGround = ({ ground, whole, residueShare: share }: SearchRasters): BandGround => ({
  signal: (ground ?? whole).fineSignal(TREND_MM.coarse),
  residueShare: share,
});

const coarsestFor = (native: WeighedSurface): number =>
  Math.sqrt((native.width * native.height) / MOST_COARSE_CELLS) * native.stepMm;
