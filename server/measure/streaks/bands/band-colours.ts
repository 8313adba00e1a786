import { ciede2000 } from '../../colour/ciede2000.ts';
import type { Lab } from '../../colour/cie-lab.ts';
import type { BandsInFrame } from './band-candidate.ts';
import { labProfile, meanOfBins } from './lab-profile.ts';
import type { LabProfile } from './lab-profile.ts';
import type { ReducedSurface } from '../surface/reduce-surface.ts';

/** What the bands of a candidate look like beside the ground between them. */
export interface BandColours {
  readonly ground: Lab;
  readonly core: Lab;
  /** CIEDE2000 between the two. */
  readonly contrast: number;
  /** Share of the usable area on the dark side of half way. */
  readonly affectedShare: number;
  /** Mean probability of residue in the cores over that of the ground; null where nobody gave one. */
  readonly residueRise: number | null;
  /** Probability of lack of dwell: its mean, and by how much the cores' is over that of the ground; null where nobody told. */
  readonly underDwell: { readonly mean: number; readonly rise: number } | null;
  readonly profile: LabProfile;
}

/** Shares of the step from ground to band: what lies between them is flank and counts for neither. */
const CORE_LEVEL = 0.7;
const GROUND_LEVEL = 0.25;

/** Null when one of the two levels is empty. */
export function bandColours(candidate: BandsInFrame, surface: ReducedSurface): BandColours | null {
  const { direction, extent, strips, levels } = candidate;
  const profile = labProfile(surface, direction.frame, extent, strips);
  const level = (bin: number): number => (levels.profile[bin] - levels.ground[bin]) / levels.contrast;
  const isCore = (bin: number): boolean => levels.weight[bin] > 0 && level(bin) > CORE_LEVEL;
  const isGround = (bin: number): boolean => levels.weight[bin] > 0 && level(bin) < GROUND_LEVEL;
  const core = meanOfBins(profile, isCore);
  const ground = meanOfBins(profile, isGround);
  if (core === null || ground === null) return null;
  const rise = (share: Float64Array): number => meanShare(profile, share, isCore) - meanShare(profile, share, isGround);
  return {
    core,
    ground,
    contrast: ciede2000(ground, core),
    affectedShare: weightedShare(levels.weight, (bin) => level(bin) > 0.5),
    residueRise: profile.residue === null ? null : rise(profile.residue),
    underDwell:
      profile.underDwell === null
        ? null
        : { mean: meanShare(profile, profile.underDwell, () => true), rise: rise(profile.underDwell) },
    profile,
  };
}

function weightedShare(weight: Float64Array, isIn: (bin: number) => boolean): number {
  let [inside, total] = [0, 0];
  for (let t = 0; t < weight.length; t++) {
    total += weight[t];
    if (weight[t] > 0 && isIn(t)) inside += weight[t];
  }
  return total > 0 ? inside / total : 0;
}

function meanShare({ weight }: LabProfile, share: Float64Array, isIn: (bin: number) => boolean): number {
  let [sum, total] = [0, 0];
  for (let t = 0; t < weight.length; t++) {
    if (weight[t] === 0 || !isIn(t)) continue;
    sum += weight[t] * share[t];
    total += weight[t];
  }
  return total > 0 ? sum / total : 0;
}
