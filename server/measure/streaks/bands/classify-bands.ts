import { MOST_SWATH_WIDTHS } from '../../../domain/index.ts';
import type { StreakKind } from '../../../domain/index.ts';
import { median } from '../surface/robust-deviation.ts';
import { fitLattice } from './fit-lattice.ts';
import type { Lattice } from './fit-lattice.ts';
import { middleOf, widthOf } from './profile-levels.ts';
import type { DarkRun } from './profile-levels.ts';

export interface BandKind {
  readonly kind: StreakKind;
  /** Even spacing, where there is one. */
  readonly lattice: Lattice | null;
}

/** Line pitches go up to this, mm (fast hand, slow mirror). */
export const MOST_LINE_PITCH_MM = 33;
/**
 * Seams are narrow, mm, most of them and each, and cover little; with neighbours further apart than this, mm, their spacing is
 * told, and but once may two be nearer (one that is torn). Chosen on 270 zones of photos, where 93 of 100 seams and 95 of 100 bands
 * are told right, and held on 129 test surfaces; the widest and the nearness on 97 more, where they mend three of seven faults.
 */
const SEAM = { mostMm: 16, widestMm: 20, mostShare: 0.2, leastApartMm: 28 } as const;
/**
 * Stripes stray from even places by less than this share of the pitch, and their widths by this share of their mean. Chosen on
 * test surfaces: stripes stay below 0.07 and 0.1 (torn ones 0.3), bands do so by chance.
 */
const EVEN = { places: 0.085, widths: 0.35 } as const;
/** Three or four stripes lie evenly by chance more often: they must be more even. More of them may be torn, and then differ in width. */
const EVEN_FEW_PLACES = 0.06;
const FEW = 4;
/**
 * Seams lie as far apart as swaths are laid: by the line's width, less where swaths overlap, more where they do not meet, as
 * shares of it (common practice); so many times as far where seams between do not show. Widened on 230 rendered
 * photos, where all 45 seams with neighbours lie so, and 16 of 53 bands; seams lie exactly one width apart there.
 */
const SWATHS = { least: 0.65, most: MOST_SWATH_WIDTHS, times: [1, 2, 3] } as const;

/**
 * Tells what made the bands from their widths and distances.
 * @param runs dark runs across the stripes, in order, at least one
 * @param share of the usable area that they cover
 * @param scanWidthMm width of the laser's line, where it is known
 */
export function classifyBands(runs: readonly DarkRun[], share: number, scanWidthMm: number | null): BandKind {
  const whole = runs.filter((run) => !run.isCut);
  const middles = whole.map(middleOf);
  const widths = (whole.length > 0 ? whole : runs).map(widthOf);
  const lattice = middles.length >= 2 ? fitLattice(middles) : null;
  if (lattice !== null && isLinePitch(lattice, widths)) return { kind: 'line-pitch', lattice };
  const leastApart = Math.min(SEAM.leastApartMm, SWATHS.least * (scanWidthMm ?? Infinity));
  const gaps = gapsOf(middles);
  const isSeam =
    share <= SEAM.mostShare &&
    median(widths) <= SEAM.mostMm &&
    !areTooNearOrWide(runs, leastApart) &&
    gaps.every((gap) => gap <= leastApart || swathsApart(gap, scanWidthMm) !== undefined);
  if (!isSeam) return { kind: 'dwell-band', lattice: null };
  const areApart = gaps.length > 0 && Math.min(...gaps) > leastApart;
  return { kind: 'swath-seam', lattice: areApart ? seamLattice(middles, scanWidthMm) : null };
}

/** Even spacing of seams; seams between that do not show are counted where the width of the line is known. */
function seamLattice(middles: readonly number[], scanWidthMm: number | null): Lattice {
  const ranks = [0];
  for (const gap of gapsOf(middles)) ranks.push(ranks[ranks.length - 1] + (swathsApart(gap, scanWidthMm) ?? 1));
  return fitLattice(middles, ranks);
}

const gapsOf = (middles: readonly number[]): number[] => middles.slice(1).map((middle, i) => middle - middles[i]);

/** How many swaths lie between two seams, as few as may be; one where nobody knows, undefined where it is no whole number. */
function swathsApart(gapMm: number, scanWidthMm: number | null): number | undefined {
  if (scanWidthMm === null) return 1;
  const widths = gapMm / scanWidthMm;
  return SWATHS.times.find((times) => widths > SWATHS.least * times && widths < SWATHS.most * times);
}

/** Whether runs, cut ones too, lie as seams do not. */
const areTooNearOrWide = (runs: readonly DarkRun[], leastApartMm: number): boolean =>
  runs.some((run) => widthOf(run) > SEAM.widestMm) ||
  gapsOf(runs.map(middleOf)).filter((gap) => gap < leastApartMm).length > 1;

function isLinePitch(lattice: Lattice, widths: readonly number[]): boolean {
  if (widths.length < 3 || lattice.spacing > MOST_LINE_PITCH_MM) return false;
  const places = widths.length <= FEW ? EVEN_FEW_PLACES : EVEN.places;
  return lattice.unevenness < places && areLikeWide(widths);
}

const areLikeWide = (widths: readonly number[]): boolean => widths.length > FEW || widthSpread(widths) < EVEN.widths;

/** Standard deviation of widths over their mean. */
export function widthSpread(widths: readonly number[]): number {
  const mean = widths.reduce((sum, w) => sum + w, 0) / widths.length;
  return Math.sqrt(widths.reduce((sum, w) => sum + (w - mean) ** 2, 0) / widths.length) / mean;
}

const LEAST_WHOLE = 3;

/** Pitches tried, as shares about the given one: a wave's pitch is that sure. */
const PITCH_SHARES = [0.96, 0.98, 1, 1.02, 1.04] as const;

/**
 * Whether runs that a wave was found in are no stripes of one pitch but bands that happen to lie nearly even; stripes may be
 * missing. Too few runs tell nothing.
 * Source: circular standard deviation, sqrt(-2 ln R) (K. V. Mardia, Statistics of Directional Data, 1972, from memory) [MARDIA1972].
 */
export function areUneven(runs: readonly DarkRun[], pitchMm: number): boolean {
  const whole = runs.filter((run) => !run.isCut);
  if (whole.length < LEAST_WHOLE) return false;
  const resultants = PITCH_SHARES.map((share) => {
    const turns = whole.map((run) => (2 * Math.PI * middleOf(run)) / (share * pitchMm));
    const part = (f: (turn: number) => number): number => turns.reduce((sum, turn) => sum + f(turn), 0);
    return Math.hypot(part(Math.cos), part(Math.sin)) / turns.length;
  });
  const resultant = Math.min(1, Math.max(1e-6, ...resultants));
  const places = Math.sqrt(-2 * Math.log(resultant)) / (2 * Math.PI);
  return places > EVEN.places || !areLikeWide(whole.map(widthOf));
}
