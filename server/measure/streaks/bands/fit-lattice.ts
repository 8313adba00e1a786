/** Evenly spaced places that fit a list of places best. */
export interface Lattice {
  readonly spacing: number;
  /** Root mean square distance from the lattice, as a share of the spacing. */
  readonly unevenness: number;
  /** How many places there were. */
  readonly count: number;
  /** Sum of their ranks' squared distances from the mean rank: the longer the row, the surer the spacing. */
  readonly squares: number;
}

/**
 * Straight line through places against their rank.
 * @param places in rising order, at least two
 * @param ranks whole numbers in rising order, one a place; with gaps where places are missing
 *
 * Source: ordinary least squares.
 */
export function fitLattice(places: readonly number[], ranks: readonly number[] = [...places.keys()]): Lattice {
  const n = places.length;
  if (n < 2) throw new RangeError(`Expected at least two places but received ${n}`);
  const middle = meanOf(ranks);
  const mean = meanOf(places);
  const squares = ranks.reduce((sum, rank) => sum + (rank - middle) ** 2, 0);
  const spacing = places.reduce((sum, place, k) => sum + (ranks[k] - middle) * (place - mean), 0) / squares;
  const rest = places.reduce((sum, place, k) => sum + (place - mean - spacing * (ranks[k] - middle)) ** 2, 0);
  return { spacing, unevenness: Math.sqrt(rest / n) / Math.abs(spacing), count: n, squares };
}

const meanOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
