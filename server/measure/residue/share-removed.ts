import { measuredShare } from '../../domain/index.ts';
import type { Measured } from '../../domain/index.ts';

/** Below this lower bound of the before-residue there is nothing to have removed a share of. */
const LEAST_BEFORE = 0.02;

/**
 * Share of the before-residue that is gone, 1 - after / before, with the interval of a ratio of independent quantities
 * recovered from their own intervals (MOVER-R). Source: [DONNER2012].
 * @returns null when the before photo shows next to no residue
 */
export function shareRemoved(before: Measured, after: Measured): Measured | null {
  if (before.low < LEAST_BEFORE) return null;
  const product = after.value * before.value;
  const lowDown = after.low * before.high * (2 * after.value - after.low) * (2 * before.value - before.high);
  const highDown = after.high * before.low * (2 * after.value - after.high) * (2 * before.value - before.low);
  const low =
    (product - Math.sqrt(Math.max(0, product * product - lowDown))) / (before.high * (2 * before.value - before.high));
  const high =
    (product + Math.sqrt(Math.max(0, product * product - highDown))) / (before.low * (2 * before.value - before.low));
  const isUsable = before.high < 2 * before.value;
  const [least, most] = isUsable ? [low, high] : [after.low / before.high, after.high / before.low];
  return measuredShare(1 - after.value / before.value, 1 - most, 1 - least);
}
