import { modelDeviation } from '../belief/model-deviation.ts';
import { HAND_SPEED_DEVIATION } from '../belief/surface-belief.ts';

/** What the hand and the photo blur between a surface and its residue after a round, as a part of the residue. */
const BLUR_PART = 0.06;
/** Surfaces whose residues differ by more deviations than this are told apart by the photo. */
const TOLD_APART_DEVIATIONS = 3.5;

/** Deviation with which a residue after a round points back to the surface, hand and photo together. */
export const seenDeviation = (photoDeviation: number, residue: number): number =>
  Math.hypot(photoDeviation, BLUR_PART * residue);

/**
 * The same for the part that a test patch kept of what it found: photo, what the model misses, and a hand that errs. Where
 * energy thins exponentially, a hand off by a part changes what is kept by that part of kept x ln(1 / kept), all shares.
 * Source: arithmetic.
 */
export function patchDeviation(photoDeviation: number, kept: number): number {
  const part = Math.min(1, Math.max(LEAST_KEPT, kept));
  const byHand = HAND_SPEED_DEVIATION * part * Math.log(1 / part);
  return Math.hypot(photoDeviation, modelDeviation(part), byHand);
}
/** Keeps the logarithm finite; far below what any photo shows. */
const LEAST_KEPT = 1e-6;

/** How well another surface explains the photo of one, from 1 for the same residue to 0 where the photo tells them apart. */
export function photoLikeness(seen: number, other: number, deviation: number): number {
  const z = (seen - other) / deviation;
  return Math.abs(z) > TOLD_APART_DEVIATIONS ? 0 : Math.exp(-0.5 * z * z);
}
