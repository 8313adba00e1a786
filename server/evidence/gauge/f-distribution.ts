/** Lanczos coefficients, g = 7, n = 9; relative error below 1e-14 for positive arguments. Source: [LANCZOS1964], values from memory. */
const LANCZOS: readonly number[] = [
  0.99999999999980993, 676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059,
  12.507343278686905, -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7,
];

/** Natural logarithm of the gamma function for x >= 0.5. */
function logGamma(x: number): number {
  const z = x - 1;
  const series = LANCZOS.slice(1).reduce((sum, c, k) => sum + c / (z + k + 1), LANCZOS[0]);
  const t = z + 7.5;
  return 0.5 * Math.log(2 * Math.PI) + (z + 0.5) * Math.log(t) - t + Math.log(series);
}

/**
 * Regularised incomplete beta function I_x(a, b), a and b from 0.5 up, x in 0..1: continued fraction by Lentz's method,
 * on the side where it converges fast. Source: [DLMF], 8.17.22.
 */
function incompleteBeta(x: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  if (x > (a + 1) / (a + b + 2)) return 1 - incompleteBeta(1 - x, b, a);
  const front = Math.exp(a * Math.log(x) + b * Math.log1p(-x) + logGamma(a + b) - logGamma(a) - logGamma(b)) / a;
  return front / betaFraction(x, a, b);
}

const TINY = 1e-300;
const CLOSE = 1e-15;
const MOST_TERMS = 10_000;

/** Value of the continued fraction 1 + d1/(1 + d2/(1 + ...)). */
function betaFraction(x: number, a: number, b: number): number {
  const away = (value: number): number => (Math.abs(value) < TINY ? TINY : value);
  let value = 1;
  let numerator = 1;
  let denominator = 0;
  for (let n = 1; n <= MOST_TERMS; n++) {
    const m = Math.floor(n / 2);
    const term =
      n % 2 === 0
        ? (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m))
        : (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    denominator = 1 / away(1 + term * denominator);
    numerator = away(1 + term / numerator);
    const factor = numerator * denominator;
    value *= factor;
    if (Math.abs(factor - 1) < CLOSE) return value;
  }
  throw new RangeError(`The incomplete beta function did not converge for x = ${x}, a = ${a}, b = ${b}`);
}

/**
 * Chance that an F variable exceeds `f`. Source: [DLMF], 8.17 and the F distribution's definition.
 * @param f ratio of mean squares, 0 or more
 * @param upper degrees of freedom of the numerator, 1 or more
 * @param lower degrees of freedom of the denominator, 1 or more
 */
export function chanceOfLargerF(f: number, upper: number, lower: number): number {
  return incompleteBeta(lower / (lower + upper * f), lower / 2, upper / 2);
}
