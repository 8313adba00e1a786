import type { Measured } from './measured.ts';

/** How neighbouring swaths lie, and by how much, mm. */
export interface SwathOverlap {
  readonly how: 'apart' | 'overlapping' | 'edge to edge';
  readonly byMm: number;
}

/** Seams further apart than this many widths of the line have others between them that do not show (common practice). */
export const MOST_SWATH_WIDTHS = 1.2;

/**
 * What the distance of seams says of the swaths, beside the width of the line; edge to edge where the interval does not tell. Null
 * where seams between must be missing.
 */
export function swathOverlap({ value, low, high }: Measured, scanWidthMm: number): SwathOverlap | null {
  if (value > MOST_SWATH_WIDTHS * scanWidthMm) return null;
  if (low > scanWidthMm) return { how: 'apart', byMm: value - scanWidthMm };
  if (high < scanWidthMm) return { how: 'overlapping', byMm: scanWidthMm - value };
  return { how: 'edge to edge', byMm: 0 };
}
