import type { Settings, StreakKind } from '../../../domain/index.ts';
import { fitLattice } from './fit-lattice.ts';
import type { Lattice } from './fit-lattice.ts';
import type { DarkRun } from './profile-levels.ts';

export interface BandKind {
  readonly kind: StreakKind;
  /** Even spacing, where there is one. */
  readonly lattice: Lattice | null;
}

/** Line pitches go up to this, mm (fast hand, slow mirror); seams begin beyond. */
export const MOST_LINE_PITCH_MM = 33;
/** A seam is no wider, mm, and no more than this share of the distance between seams. */
const MOST_SEAM_MM = 12;
const MOST_SEAM_SHARE = 0.33;
/** Seams lie within this share of the scan width apart, where it is known. */
const WIDTH_TOLERANCE = 0.25;
/**
 * Stripes stray from even places by less than this share of the pitch, and their widths by this share of their mean. Chosen on
 * test surfaces: stripes stay below 0.07 and 0.1 (torn ones 0.3), bands do so by chance.
 */
const EVEN = { places: 0.085, widths: 0.35 } as const;
/** With three or four stripes chance is likelier: they must be more even. */
const EVEN_FEW_PLACES = 0.06;
const FEW = 4;

/** Tells what made the bands from their widths and distances. @param runs dark runs across the stripes, in order, at least one */
export function classifyBands(runs: readonly DarkRun[], settings: Settings | null): BandKind {
  const whole = runs.filter((run) => !run.isCut);
  const middles = whole.map((run) => (run.startMm + run.endMm) / 2);
  const widths = (whole.length > 0 ? whole : runs).map((run) => run.endMm - run.startMm);
  const lattice = middles.length >= 2 ? fitLattice(middles) : null;
  if (lattice !== null && isLinePitch(lattice, widths)) return { kind: 'line-pitch', lattice };
  if (areSeams(lattice, middles, { widths, settings })) return { kind: 'swath-seam', lattice };
  return { kind: 'dwell-band', lattice: null };
}

function isLinePitch(lattice: Lattice, widths: readonly number[]): boolean {
  if (widths.length < 3 || lattice.spacing > MOST_LINE_PITCH_MM) return false;
  const places = widths.length <= FEW ? EVEN_FEW_PLACES : EVEN.places;
  return lattice.unevenness < places && widthSpread(widths) < EVEN.widths;
}

/** Standard deviation of widths over their mean. */
export function widthSpread(widths: readonly number[]): number {
  const mean = widths.reduce((sum, w) => sum + w, 0) / widths.length;
  return Math.sqrt(widths.reduce((sum, w) => sum + (w - mean) ** 2, 0) / widths.length) / mean;
}

function areSeams(
  lattice: Lattice | null,
  middles: readonly number[],
  { widths, settings }: { widths: readonly number[]; settings: Settings | null },
): boolean {
  if (Math.max(...widths) > MOST_SEAM_MM) return false;
  if (lattice === null) return true;
  const nearest = Math.min(...middles.slice(1).map((middle, i) => middle - middles[i]));
  if (Math.max(...widths) > MOST_SEAM_SHARE * nearest) return false;
  if (settings !== null) {
    const swath = settings.scanWidthMm;
    const isSwath = Math.abs(lattice.spacing / swath - 1) < WIDTH_TOLERANCE;
    return isSwath || nearest > MOST_LINE_PITCH_MM;
  }
  return nearest > 28;
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
    const turns = whole.map((run) => (Math.PI * (run.startMm + run.endMm)) / (share * pitchMm));
    const part = (f: (turn: number) => number): number => turns.reduce((sum, turn) => sum + f(turn), 0);
    return Math.hypot(part(Math.cos), part(Math.sin)) / turns.length;
  });
  const resultant = Math.min(1, Math.max(1e-6, ...resultants));
  const places = Math.sqrt(-2 * Math.log(resultant)) / (2 * Math.PI);
  return places > EVEN.places || widthSpread(whole.map((run) => run.endMm - run.startMm)) > EVEN.widths;
}
