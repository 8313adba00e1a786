/**
 * Probability that a standard normal variable stays below `z`. Absolute error below 1e-7 (test against the tables).
 * Source: [AS1964], 7.1.26.
 */
export function normalProbabilityBelow(z: number): number {
  const x = Math.abs(z) / Math.SQRT2;
  const t = 1 / (1 + 0.3275911 * x);
  const polynomial = t * (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))));
  const upperTail = 0.5 * polynomial * Math.exp(-x * x);
  return z < 0 ? upperTail : 1 - upperTail;
}

/**
 * The `z` below which a standard normal variable stays with probability `p`, 0 < p < 1. Absolute error below 4.5e-4,
 * plenty for spreading points. Source: [AS1964], 26.2.23.
 */
export function normalQuantile(p: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`Expected a probability between 0 and 1 but received ${p}`);
  const t = Math.sqrt(-2 * Math.log(Math.min(p, 1 - p)));
  const z = t - (2.515517 + t * (0.802853 + t * 0.010328)) / (1 + t * (1.432788 + t * (0.189269 + t * 0.001308)));
  return p < 0.5 ? -z : z;
}
