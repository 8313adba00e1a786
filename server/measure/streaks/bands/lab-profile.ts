import type { Lab } from '../../colour/cie-lab.ts';
import type { ReducedSurface } from '../surface/reduce-surface.ts';
import type { Extent, StripeFrame } from './strip-profiles.ts';

/** Mean colour of the surface at each place across stripes. */
export interface LabProfile {
  readonly bins: number;
  readonly binMm: number;
  readonly startMm: number;
  readonly weight: Float64Array;
  readonly L: Float64Array;
  readonly a: Float64Array;
  readonly b: Float64Array;
  /** Mean probability of residue; null where nobody gave one. */
  readonly residue: Float64Array | null;
  /** Mean probability of lack of dwell; null where nobody told. */
  readonly underDwell: Float64Array | null;
}

export function labProfile(
  surface: ReducedSurface,
  frame: StripeFrame,
  extent: Extent,
  place: { readonly bins: number; readonly binMm: number; readonly startMm: number },
): LabProfile {
  const { bins, binMm, startMm } = place;
  const sums = (): Float64Array => new Float64Array(bins);
  const profile = { weight: sums(), L: sums(), a: sums(), b: sums(), residue: sums(), underDwell: sums() };
  const cos = Math.cos(frame.angle);
  const sin = Math.sin(frame.angle);
  for (let y = 0, i = 0; y < surface.height; y++) {
    const dy = (y + 0.5) * surface.stepMm - extent.middleY;
    for (let x = 0; x < surface.width; x++, i++) {
      const w = surface.weight[i];
      if (w === 0) continue;
      const dx = (x + 0.5) * surface.stepMm - extent.middleX;
      const along = dx * cos + dy * sin;
      const bin = Math.floor((dy * cos - dx * sin - (frame.bendPerMm / 2) * along * along - startMm) / binMm);
      if (bin < 0 || bin >= bins) continue;
      profile.weight[bin] += w;
      profile.L[bin] += w * surface.L[i];
      profile.a[bin] += w * surface.a[i];
      profile.b[bin] += w * surface.b[i];
      if (surface.residue !== null) profile.residue[bin] += w * surface.residue[i];
      if (surface.underDwell !== null) profile.underDwell[bin] += w * surface.underDwell[i];
    }
  }
  for (const means of [profile.L, profile.a, profile.b, profile.residue, profile.underDwell]) {
    for (let t = 0; t < bins; t++) if (profile.weight[t] > 0) means[t] /= profile.weight[t];
  }
  return {
    ...place,
    ...profile,
    residue: surface.residue === null ? null : profile.residue,
    underDwell: surface.underDwell === null ? null : profile.underDwell,
  };
}

/** Mean colour of the bins that are asked for; null when they hold nothing. */
export function meanOfBins(profile: LabProfile, isWanted: (bin: number) => boolean): Lab | null {
  const sum = { L: 0, a: 0, b: 0 };
  let total = 0;
  for (let t = 0; t < profile.bins; t++) {
    const w = profile.weight[t];
    if (w === 0 || !isWanted(t)) continue;
    sum.L += w * profile.L[t];
    sum.a += w * profile.a[t];
    sum.b += w * profile.b[t];
    total += w;
  }
  return total > 0 ? { L: sum.L / total, a: sum.a / total, b: sum.b / total } : null;
}
