/**
 * Share of the surface that a round touches, from the strokes that cross a point in one pass on average (spot over mean
 * pitch, > 0). A zig-zag opens to twice the mean pitch at its ends, so below 2 strokes some metal is missed there; below
 * 1 also in the middle. Passes are taken to fall at random places. Source: geometry of the zig-zag.
 *
 * @param gapsClosed part of the gaps, 0 to 1, that is closed by what lies beside them: neighbouring swaths overlap at the
 *   ends and a real beam reaches past its nominal edge
 */
export function coveredShare(strokesSeen: number, passes: number, gapsClosed: number): number {
  if (strokesSeen >= 2) return 1;
  return 1 - ((1 - gapsClosed) * missedByZigZag(strokesSeen)) ** passes;
}

/**
 * Share of a swath between the strokes of one zig-zag pass: the gaps p (1 + u) and p (1 - u) beyond the spot, averaged
 * over the places u = 0..1 from the middle to the end of the line. `strokesSeen` > 0. Source: geometry of the zig-zag.
 */
export function missedByZigZag(strokesSeen: number): number {
  if (strokesSeen >= 2) return 0;
  if (strokesSeen >= 1) return (2 - strokesSeen) ** 2 / 4;
  return (1 - strokesSeen) / 2 + 1 / 4 + (1 - strokesSeen) ** 2 / 4;
}
