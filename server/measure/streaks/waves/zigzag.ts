import type { PeriodicWave } from './periodic-wave.ts';
import type { WaveVector } from './stripe-blocks.ts';

/**
 * Strokes to and fro lean to either side: every second one is parallel, so a zigzag is two families of stripes at twice the
 * spacing, and the strokes' mean has the sum of both wave vectors.
 */
export function meanOfFamilies(p: WaveVector, q: WaveVector): WaveVector {
  const side = Math.sign(p.kx * q.kx + p.ky * q.ky);
  return { kx: p.kx + side * q.kx, ky: p.ky + side * q.ky };
}

/** Of two lines, radians up to half pi. */
export const angleBetween = (p: WaveVector, q: WaveVector): number =>
  Math.atan2(Math.abs(p.kx * q.ky - p.ky * q.kx), Math.abs(p.kx * q.kx + p.ky * q.ky));

/**
 * Angles by which a family leans against the mean, and share by which their spacings may differ, where both stand as waves of
 * their own. What leans less is the same wave twice. A lean of 42 degrees is a spacing of nine tenths of the scan width.
 */
const APART = { least: Math.PI / 30, most: Math.PI / 4.3, spacing: 0.08 } as const;

/** Whether two waves are the two families of one zigzag. @param apart lean in radians, and share of the spacing */
export function areFamilies(
  p: WaveVector,
  q: WaveVector,
  apart: { readonly least: number; readonly most: number; readonly spacing: number } = APART,
): boolean {
  const lean = angleBetween(p, q) / 2;
  const ratio = Math.hypot(p.kx, p.ky) / Math.hypot(q.kx, q.ky);
  return lean > apart.least && lean < apart.most && Math.abs(ratio - 1) < apart.spacing;
}

/**
 * What two families have in common: the same strokes made them. Amplitudes differ by less than this factor, and both stand out
 * and carry on along the stripes. In 9837 zones four pairs are like this of which one wave has little evidence of its own: all are
 * zigzags that one family told by twice their spacing or nearly. Both together tell three of them right, and the fourth 3 % and 7
 * degrees off.
 */
const TWINS = { amplitude: 1.2, prominence: 13, along: 0.2 } as const;
/**
 * Families stay on their peaks, bins of the spectrum. Of 29 pairs of waves that lie as families do, in 2318 zones with streaks, 23
 * drift by up to 0.32, and all are strokes to and fro; six drift by 0.55 and more, and none is.
 */
const MOST_DRIFT_BINS = 0.4;

export const staysOnPeak = ({ driftBins }: Pick<PeriodicWave, 'driftBins'>): boolean => driftBins < MOST_DRIFT_BINS;

/** Whether two waves are as much alike as the two families of one zigzag, apart from where they lie. */
export function areTwins(p: TwinSigns, q: TwinSigns): boolean {
  const ratio = p.amplitude / q.amplitude;
  return Math.max(ratio, 1 / ratio) < TWINS.amplitude && isClear(p) && isClear(q);
}

export type TwinSigns = Pick<PeriodicWave, 'amplitude' | 'prominence' | 'driftBins' | 'coherence'>;

const isClear = ({ prominence, driftBins, coherence }: TwinSigns): boolean =>
  prominence > TWINS.prominence && staysOnPeak({ driftBins }) && coherence.along > TWINS.along;

/** Share of the wave number within which two sides meet in what they lean about, and the angle between them at least. */
const SIDES = { share: 0.07, least: Math.PI / 18 } as const;

/** Whether a wave is what two others lean about to either side: strokes to and fro show as the two and as their sum. */
export function areSidesOf(strokes: WaveVector, p: WaveVector, q: WaveVector): boolean {
  const sum = meanOfFamilies(p, q);
  const side = Math.sign(sum.kx * strokes.kx + sum.ky * strokes.ky);
  const apart = Math.hypot(sum.kx - side * strokes.kx, sum.ky - side * strokes.ky);
  return apart < SIDES.share * Math.hypot(strokes.kx, strokes.ky) && angleBetween(p, q) > SIDES.least;
}
