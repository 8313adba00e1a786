/** What the hand and the photo blur between a surface and its residue after a round, as a part of the residue. */
const BLUR_PART = 0.06;
/** Surfaces whose residues differ by more deviations than this are told apart by the photo. */
const TOLD_APART_DEVIATIONS = 3.5;

/** Deviation with which a residue after a round points back to the surface, hand and photo together. */
export const seenDeviation = (photoDeviation: number, residue: number): number =>
  Math.hypot(photoDeviation, BLUR_PART * residue);

/** How well another surface explains the photo of one, from 1 for the same residue to 0 where the photo tells them apart. */
export function photoLikeness(seen: number, other: number, deviation: number): number {
  const z = (seen - other) / deviation;
  return Math.abs(z) > TOLD_APART_DEVIATIONS ? 0 : Math.exp(-0.5 * z * z);
}
