import { ciede2000 } from '../../colour/ciede2000.ts';
import type { Lab } from '../../colour/cie-lab.ts';
import type { ReducedSurface } from './reduce-surface.ts';
import type { StreakSignal } from './streak-signal.ts';
import { subtractSlowTrend } from './subtract-slow-trend.ts';

/** With less residue, or less of anything else, its share shows nothing. */
const LEAST_SHARE = 0.004;

/** CIEDE2000 between the mean colours of residue and of the rest; null where nobody said what is residue, or one is missing. */
export function residueStep(surface: ReducedSurface): number | null {
  const { residue, weight, L, a, b } = surface;
  if (residue === null) return null;
  const sums = [0, 1].map(() => ({ L: 0, a: 0, b: 0, weight: 0 }));
  for (let i = 0; i < weight.length; i++) {
    if (weight[i] === 0) continue;
    for (const [k, share] of [1 - residue[i], residue[i]].entries()) {
      const w = weight[i] * share;
      sums[k].L += w * L[i];
      sums[k].a += w * a[i];
      sums[k].b += w * b[i];
      sums[k].weight += w;
    }
  }
  const total = sums[0].weight + sums[1].weight;
  if (sums.some((sum) => sum.weight < LEAST_SHARE * total)) return null;
  const [rest, films] = sums.map((sum): Lab => ({
    L: sum.L / sum.weight,
    a: sum.a / sum.weight,
    b: sum.b / sum.weight,
  }));
  return ciede2000(rest, films);
}

/** Share of residue about its slow change, as lightness of that many dE00 less for residue throughout. */
export const residueSignal = (surface: ReducedSurface, stepDeltaE: number, trendMm: number): StreakSignal =>
  shareSignal(surface, surface.residue, stepDeltaE, trendMm);

/** A share about its slow change, as lightness of that many dE00 less for all of it; none where nobody told it. */
export function shareSignal(
  { width, height, stepMm, weight }: ReducedSurface,
  share: Float32Array | null,
  stepDeltaE: number,
  trendMm: number,
): StreakSignal {
  const lightness = Float32Array.from(weight, (w, i) => (w === 0 || share === null ? 0 : -stepDeltaE * share[i]));
  subtractSlowTrend(lightness, weight, { width, height, stepMm, sigmaMm: trendMm });
  for (let i = 0; i < weight.length; i++) if (weight[i] === 0) lightness[i] = 0;
  return { width, height, stepMm, weight, lightness, chroma: new Float32Array(weight.length) };
}
