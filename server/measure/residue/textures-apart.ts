import { EVEN_BANDS } from './even-texture.ts';
import type { UsualSquare } from './usual-square.ts';

export interface TexturesApart {
  /** About the logarithm of the ratio of the first to the second, within -1 to 1; below 0 the first is smoother. */
  readonly apart: number;
  /** Standard deviation that chance gives `apart` where the two are of one texture. */
  readonly sigma: number;
}

/** Where noise leaves next to nothing of both, nothing can be told. CIEDE2000 squared. */
const LEAST_SUM = 1e-4;

/**
 * How far the even textures of two patches of one photo are apart, whose blur and sharpening weaken or lift both alike. In each
 * band it is (p - q) / (p + q) of their squares: the hyperbolic tangent of the ratio's logarithm, and bounded where noise leaves
 * one of them none. Bands are weighed by their scatter and by how far a band may be from the whole (inverse variances); two of
 * one texture are alike in every band, so that scatter alone counts in `sigma`.
 * @param first one for each of EVEN_BANDS
 */
export function texturesApart(first: readonly UsualSquare[], second: readonly UsualSquare[]): TexturesApart {
  let [apart, weights, variance] = [0, 0, 0];
  EVEN_BANDS.forEach(({ unlikeWhole }, k) => {
    const { value, sigma } = relativeDifference(first[k], second[k]);
    const weight = 1 / (sigma * sigma + unlikeWhole * unlikeWhole);
    apart += weight * value;
    weights += weight;
    variance += (weight * sigma) ** 2;
  });
  return { apart: apart / weights, sigma: Math.sqrt(variance) / weights };
}

/** Errors go through as derivatives of the ratio; next to none they would vanish with it, and half those of the sum are taken. */
function relativeDifference(p: UsualSquare, q: UsualSquare): { value: number; sigma: number } {
  const sum = Math.max(LEAST_SUM, p.square + q.square);
  const derived = (2 * Math.hypot(q.square * p.sigma, p.square * q.sigma)) / (sum * sum);
  const least = Math.hypot(p.sigma, q.sigma) / (2 * sum);
  return { value: (p.square - q.square) / sum, sigma: Math.max(derived, least) };
}
