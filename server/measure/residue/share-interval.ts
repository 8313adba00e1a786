import { measuredShare } from '../../domain/index.ts';
import type { Measured } from '../../domain/index.ts';

/** 97.5 % point of the normal distribution. */
const Z = 1.959963984540054;
/** A share of 0 or 1 still has the error of a share this far inside, and a bound this near to the end reaches it. */
const LEAST_SHARE = 0.002;

/**
 * Interval of a share whose standard deviation is known: Wilson's score interval for the number of independent trials that
 * would have this standard deviation, so that it stays inside 0..1 and leans inwards near the ends. Source: [WILSON1927].
 *
 * @param share 0..1
 * @param sigma standard deviation of the share, > 0
 */
export function shareInterval(share: number, sigma: number): Measured {
  // A share read as none with an error of sigma is about sigma in the mean: nearer to the end there would be hardly any trials.
  const end = Math.min(0.5, Math.max(LEAST_SHARE, sigma));
  const inner = Math.min(1 - end, Math.max(end, share));
  const { low, high } = wilsonInterval(share, (inner * (1 - inner)) / (sigma * sigma));
  // Less than that cannot be told from none, nor the same short of all.
  return measuredShare(share, low < LEAST_SHARE ? 0 : low, high > 1 - LEAST_SHARE ? 1 : high);
}

/**
 * Wilson's score interval of a proportion, 95 %. Source: [WILSON1927].
 * @param trials number of independent trials, > 0, need not be whole
 */
export function wilsonInterval(share: number, trials: number): Measured {
  const z2 = Z * Z;
  const centre = (share + z2 / (2 * trials)) / (1 + z2 / trials);
  const half = (Z / (1 + z2 / trials)) * Math.sqrt((share * (1 - share)) / trials + z2 / (4 * trials * trials));
  return measuredShare(share, centre - half, centre + half);
}
