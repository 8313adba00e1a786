import type { ColourAxes } from './colour-axes.ts';
import type { ReducedSurface } from './reduce-surface.ts';
import { robustDeviation } from './robust-deviation.ts';
import { flatColour } from './streak-signal.ts';
import type { StreakSignal } from './streak-signal.ts';

/** What patches keep of their weight, so that no part of the raster is lost. */
const PATCH_WEIGHT = 0.04;
/** The surface is taken as two materials when two levels explain this share of its variance (0.64 for one normal hump). */
const TWO_MATERIALS = 0.74;
/** A patch lies this far off the ground: robust deviations of the ground, and dE00, whichever is more. */
const PATCH = { deviations: 3, deltaE: 5 } as const;
/** Where residue has been set aside, what is left may differ by more: films of streaks reach this, dE00. */
const LEFT_PATCH_DELTA_E = 11;

/**
 * Weights of the surface with patches of other material set aside, so that faint streaks on the ground between them come out.
 * Ground is the lighter, less coloured of two materials, where there are two.
 */
export function groundWeight(
  surface: ReducedSurface,
  axes: ColourAxes,
  whole: StreakSignal,
  trendMm: number,
): Float32Array {
  const start = withoutPatches(whole.weight, lighterMaterial(whole));
  return withoutPatches(whole.weight, nearGround(surface, axes, { weight: start, trendMm, least: PATCH.deltaE }));
}

/** The same for a surface whose residue has been set aside: what is left is one material and its oddities. */
export const leftGroundWeight = (surface: ReducedSurface, axes: ColourAxes, trendMm: number): Float32Array =>
  withoutPatches(
    surface.weight,
    nearGround(surface, axes, { weight: surface.weight, trendMm, least: LEFT_PATCH_DELTA_E }),
  );

/** The same weights on a finer raster of the same surface. @param factor cells of `fine` per side of a cell of `coarse` */
export function groundWeightOn(
  fine: ReducedSurface,
  coarse: { readonly surface: ReducedSurface; readonly ground: Float32Array; readonly factor: number },
): Float32Array {
  const weight = Float32Array.from(fine.weight);
  const { surface, ground, factor } = coarse;
  for (let y = 0, i = 0; y < fine.height; y++) {
    const row = Math.floor(y / factor) * surface.width;
    for (let x = 0; x < fine.width; x++, i++) {
      const cell = row + Math.floor(x / factor);
      if (ground[cell] < surface.weight[cell]) weight[i] *= PATCH_WEIGHT;
    }
  }
  return weight;
}

const withoutPatches = (weight: Float32Array, isGround: (index: number) => boolean): Float32Array =>
  weight.map((w, i) => (isGround(i) ? w : w * PATCH_WEIGHT));

const LEVELS = 64;

/** Otsu's threshold on lightness less chroma. Source: N. Otsu, IEEE Trans. SMC 9(1), 62-66 (1979) [OTSU1979]. */
function lighterMaterial({ lightness, chroma, weight }: StreakSignal): (index: number) => boolean {
  let [least, most] = [Infinity, -Infinity];
  for (let i = 0; i < weight.length; i++) {
    if (weight[i] === 0) continue;
    const value = lightness[i] - chroma[i];
    if (value < least) least = value;
    if (value > most) most = value;
  }
  const step = (most - least) / LEVELS;
  if (!(step > 0)) return () => true;
  const counts = new Float64Array(LEVELS);
  for (let i = 0; i < weight.length; i++) {
    if (weight[i] > 0) counts[Math.min(LEVELS - 1, ((lightness[i] - chroma[i] - least) / step) | 0)] += weight[i];
  }
  const { level, explained } = otsuSplit(counts);
  if (explained < TWO_MATERIALS) return () => true;
  const threshold = least + step * level;
  return (i) => lightness[i] - chroma[i] >= threshold;
}

/** First level of the upper class, and the share of the variance between the classes. */
function otsuSplit(counts: Float64Array): { level: number; explained: number } {
  let [total, sum, squares] = [0, 0, 0];
  counts.forEach((n, k) => {
    total += n;
    sum += n * k;
    squares += n * k * k;
  });
  const variance = squares / total - (sum / total) ** 2;
  let best = { level: 0, explained: 0 };
  let [below, belowSum] = [0, 0];
  for (let level = 1; level < counts.length; level++) {
    below += counts[level - 1];
    belowSum += counts[level - 1] * (level - 1);
    const above = total - below;
    if (below === 0 || above === 0) continue;
    const between = (below * above * (belowSum / below - (sum - belowSum) / above) ** 2) / (total * total);
    if (between / variance > best.explained) best = { level, explained: between / variance };
  }
  return best;
}

function nearGround(
  surface: ReducedSurface,
  axes: ColourAxes,
  { weight, trendMm, least }: { weight: Float32Array; trendMm: number; least: number },
): (index: number) => boolean {
  const { lightness, chroma } = flatColour(surface, axes, weight, trendMm);
  const limitOf = (signal: Float32Array): number => Math.max(least, PATCH.deviations * robustDeviation(signal, weight));
  const [lightLimit, chromaLimit] = [limitOf(lightness), limitOf(chroma)];
  return (i) => Math.abs(lightness[i]) <= lightLimit && Math.abs(chroma[i]) <= chromaLimit;
}
