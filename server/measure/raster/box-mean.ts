import type { ByteMask, Plane } from './plane.ts';
import { plane } from './plane.ts';

/**
 * Mean over a square window of the pixels that `mask` counts (0 is left out), by running sums.
 * Where the window holds none the mean is 0.
 * @param radius the window is 2 * radius + 1 pixels wide
 */
export const boxMean = (source: Plane, mask: ByteMask, radius: number): Plane => boxMeans([source], mask, radius)[0];

/** The same of several planes of one size. @param counts of the mask, for those who have them already */
export function boxMeans(
  sources: readonly Plane[],
  mask: ByteMask,
  radius: number,
  counts = boxCount(mask, radius),
): Plane[] {
  return sources.map((source) => {
    const masked = plane(source.width, source.height);
    for (let i = 0; i < masked.values.length; i++) masked.values[i] = mask.values[i] === 0 ? 0 : source.values[i];
    const sums = boxSum(masked, radius);
    for (let i = 0; i < sums.values.length; i++) {
      sums.values[i] = counts.values[i] > 0 ? sums.values[i] / counts.values[i] : 0;
    }
    return sums;
  });
}

/** Number of counted pixels in the window round each pixel. */
export function boxCount(mask: ByteMask, radius: number): Plane {
  const ones = plane(mask.width, mask.height);
  for (let i = 0; i < ones.values.length; i++) ones.values[i] = mask.values[i] === 0 ? 0 : 1;
  return boxSum(ones, radius);
}

/** Sum over the window; beyond the raster there is nothing. Float64 running sums keep rounding below 1e-6 of the sum. */
export function boxSum(source: Plane, radius: number): Plane {
  const { width, height } = source;
  const from = source.values;
  const across = new Float32Array(width * height);
  for (let row = 0; row < height; row++) {
    const start = row * width;
    let sum = 0;
    for (let column = 0; column < Math.min(radius, width); column++) sum += from[start + column];
    for (let column = 0; column < width; column++) {
      if (column + radius < width) sum += from[start + column + radius];
      if (column - radius - 1 >= 0) sum -= from[start + column - radius - 1];
      across[start + column] = sum;
    }
  }
  const out = plane(width, height);
  const sums = new Float64Array(width);
  for (let row = -radius; row < height; row++) {
    const [entering, leaving] = [(row + radius) * width, (row - radius - 1) * width];
    if (row + radius < height) for (let column = 0; column < width; column++) sums[column] += across[entering + column];
    if (leaving >= 0) for (let column = 0; column < width; column++) sums[column] -= across[leaving + column];
    if (row >= 0) out.values.set(sums, row * width);
  }
  return out;
}
