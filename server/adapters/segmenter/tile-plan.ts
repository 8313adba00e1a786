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
 * pixel is seen with its surroundings: the first and the last keep what lies at the picture's own ends as well.
 */
export function tileSpans(side: number, most: number, margin: number): TileSpan[] {
  const whole = roundUp(side);
  if (whole <= most) return [{ from: 0, length: whole, keepFrom: 0, keepTo: side }];
  const spansOf = (length: number): number => Math.ceil((side - 2 * margin) / (length - 2 * margin));
  const fewest = spansOf(most - (most % MULTIPLE));
  const length = roundUp((side + 2 * margin * (fewest - 1)) / fewest);
  const core = length - 2 * margin;
  const count = spansOf(length);
  return Array.from({ length: count }, (_, i) => ({
    from: Math.max(0, Math.min(i * core, side - length)),
    length,
    keepFrom: i === 0 ? 0 : i * core + margin,
    keepTo: i === count - 1 ? side : (i + 1) * core + margin,
  }));
}

const roundUp = (value: number): number => Math.ceil(value / MULTIPLE) * MULTIPLE;
