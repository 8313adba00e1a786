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
 * their own. In 9837 zones 32 pairs of waves with evidence of their own are like this, and all are strokes to and fro; what leans
 * less is the same wave twice. A lean of 35 degrees is a spacing of seven tenths of the scan width.
 */
const APART = { least: Math.PI / 30, most: Math.PI / 5.1, spacing: 0.08 } as const;

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
 * What two families have in common: the same strokes made them. Amplitudes differ by less than this factor, and both stand out,
 * stay on their peak and carry on along the stripes. In 9837 zones four pairs are like this of which one wave has little evidence
 * of its own: all are zigzags that one family told by twice their spacing or nearly. Both together tell three of them right, and
 * the fourth 3 % and 7 degrees off.
 */
const TWINS = { amplitude: 1.2, prominence: 13, driftBins: 0.4, along: 0.2 } as const;

/** Whether two waves are as much alike as the two families of one zigzag, apart from where they lie. */
export function areTwins(p: TwinSigns, q: TwinSigns): boolean {
  const ratio = p.amplitude / q.amplitude;
  return Math.max(ratio, 1 / ratio) < TWINS.amplitude && isClear(p) && isClear(q);
}

export type TwinSigns = Pick<PeriodicWave, 'amplitude' | 'prominence' | 'driftBins' | 'coherence'>;

const isClear = ({ prominence, driftBins, coherence }: TwinSigns): boolean =>
  prominence > TWINS.prominence && driftBins < TWINS.driftBins && coherence.along > TWINS.along;
