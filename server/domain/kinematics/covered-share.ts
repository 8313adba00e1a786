/**
 * How far the open ends of a zig-zag are closed by what lies beside them: neighbouring swaths overlap there and a real
 * beam reaches past its nominal edge. Half of the way. Common practice.
 */
const ENDS_CLOSED = 0.5;

/**
 * Share of the surface that a round touches, from the strokes that cross a point in one pass on average (spot over mean
 * pitch, > 0). A zig-zag opens to twice the mean pitch at its ends, so below 2 strokes some metal is missed there; below
 * 1 also in the middle. Passes are taken to fall at random places. Source: geometry of the zig-zag.
 */
export function coveredShare(strokesSeen: number, passes: number): number {
  if (strokesSeen >= 2) return 1;
  const missed = ENDS_CLOSED * Math.max(0, 1 - strokesSeen) + (1 - ENDS_CLOSED) * missedByZigZag(strokesSeen);
  return 1 - missed ** passes;
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
