import type { ByteMask } from './plane.ts';

/** Mean of the values that the mask counts (0 is left out); NaN where it counts none. */
export function maskedMean(values: Float32Array, mask: ByteMask): number {
  let sum = 0;
  let count = 0;
  for (let i = 0; i < values.length; i++) {
    if (mask.values[i] === 0) continue;
    sum += values[i];
    count++;
  }
  return sum / count;
}
