/** A step between two pixels, and how much its variogram counts; of each step and its reverse one is listed. */
export interface Lag {
  readonly dx: number;
  readonly dy: number;
  readonly weight: number;
}

/** Ends of the band, wavelengths in mm, where half the amplitude passes. */
const FINEST_MM = 0.5;
const COARSEST_MM = 5;
/** A Gaussian of this sigma, in wavelengths, passes half the amplitude: sqrt(ln 2 / 2) / pi. */
export const HALF_AMPLITUDE_SIGMA = Math.sqrt(Math.LN2 / 2) / Math.PI;
/** Beyond this the Gaussians are so smooth that every other step, as on a chess board, stands for two; px. */
const EVERY_STEP_PX = 4;
/** Gaussians are cut off this many sigmas out. */
const REACH_SIGMAS = 2.6;

/**
 * Autocorrelation of a difference of two Gaussians (that pass half the amplitude at 0.5 and 5 mm) on a raster, without its
 * middle: Gaussians convolved with Gaussians add their variances. Each of the three is made to sum to one, so that the whole
 * sums to zero.
 */
export function bandLags(stepMm: number): Lag[] {
  const fine = (FINEST_MM * HALF_AMPLITUDE_SIGMA) / stepMm;
  const coarse = (COARSEST_MM * HALF_AMPLITUDE_SIGMA) / stepMm;
  const reach = Math.max(1, Math.ceil(REACH_SIGMAS * Math.SQRT2 * coarse));
  const both = gaussianOn(reach, 2 * fine * fine);
  const mixed = gaussianOn(reach, fine * fine + coarse * coarse);
  const slow = gaussianOn(reach, 2 * coarse * coarse);
  const lags: Lag[] = [];
  for (let dy = 0; dy <= reach; dy++) {
    for (let dx = dy === 0 ? 1 : -reach; dx <= reach; dx++) {
      const times = timesCounted(dx, dy, reach);
      if (times === 0) continue;
      // Twice: the step back has the same variogram.
      lags.push({ dx, dy, weight: 2 * times * (both(dx, dy) - 2 * mixed(dx, dy) + slow(dx, dy)) });
    }
  }
  return lags;
}

function timesCounted(dx: number, dy: number, reach: number): 0 | 1 | 2 {
  const square = dx * dx + dy * dy;
  if (square > reach * reach) return 0;
  if (square <= EVERY_STEP_PX * EVERY_STEP_PX) return 1;
  return (dx + dy) % 2 === 0 ? 2 : 0;
}

/** @param variance px^2 */
function gaussianOn(reach: number, variance: number): (dx: number, dy: number) => number {
  const at = (dx: number, dy: number): number => Math.exp(-(dx * dx + dy * dy) / (2 * variance));
  let total = 0;
  for (let dy = -reach; dy <= reach; dy++) {
    for (let dx = -reach; dx <= reach; dx++) total += timesCounted(dx, dy, reach) * at(dx, dy);
  }
  return (dx, dy) => at(dx, dy) / total;
}
