/** Evenly spaced places that fit a list of places best. */
export interface Lattice {
  readonly spacing: number;
  /** Root mean square distance from the lattice, as a share of the spacing. */
  readonly unevenness: number;
  /** How many places there were. */
  readonly count: number;
}

/**
 * Straight line through places against their rank.
 * @param places in rising order, at least two
 *
 * Source: ordinary least squares.
 */
export function fitLattice(places: readonly number[]): Lattice {
  const n = places.length;
  if (n < 2) throw new RangeError(`Expected at least two places but received ${n}`);
  const middle = (n - 1) / 2;
  const mean = places.reduce((sum, place) => sum + place, 0) / n;
  const squares = (n * (n * n - 1)) / 12;
  const spacing = places.reduce((sum, place, k) => sum + (k - middle) * (place - mean), 0) / squares;
  const rest = places.reduce((sum, place, k) => sum + (place - mean - spacing * (k - middle)) ** 2, 0);
  return { spacing, unevenness: Math.sqrt(rest / n) / Math.abs(spacing), count: n };
}
