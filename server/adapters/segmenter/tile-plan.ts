export interface TileSpan {
  /** First and past-the-last pixel that the network sees; may reach beyond the picture, where it is mirrored. */
  readonly from: number;
  readonly length: number;
  /** The part whose answer is kept, relative to the picture. */
  readonly keepFrom: number;
  readonly keepTo: number;
}

/** The network halves the picture five times. */
const MULTIPLE = 32;

/**
 * Cuts a side of the picture into equal spans of at most `most` pixels that overlap by twice `margin`, so that every kept
 * pixel is seen with its surroundings.
 */
export function tileSpans(side: number, most: number, margin: number): TileSpan[] {
  const roundUp = (value: number): number => Math.ceil(value / MULTIPLE) * MULTIPLE;
  if (roundUp(side) <= most) return [{ from: 0, length: roundUp(side), keepFrom: 0, keepTo: side }];
  const count = Math.ceil(side / (most - 2 * margin));
  const core = Math.ceil(side / count);
  const length = Math.min(roundUp(core + 2 * margin), roundUp(side));
  return Array.from({ length: count }, (_, i) => {
    const keepFrom = i * core;
    const keepTo = Math.min(side, keepFrom + core);
    const from = Math.max(0, Math.min(keepFrom - margin, side - length));
    return { from, length, keepFrom, keepTo };
  });
}
