import { reduceSurface } from '../surface/reduce-surface.ts';
import type { ReducedSurface } from '../surface/reduce-surface.ts';
import type { StreakSignal } from '../surface/streak-signal.ts';
import type { BandsInFrame } from './band-candidate.ts';
import { signalAcross } from './explained-share.ts';
import type { StripSignal } from './find-lines.ts';
import { darkRuns } from './profile-levels.ts';
import type { ProfileLevels } from './profile-levels.ts';
import { extentOf } from './strip-profiles.ts';

/** Lack of dwell that the network tells and that lies in bands. */
export interface ToldBands extends BandsInFrame {
  /** Sum of the probability over the bands, mm2. */
  readonly toldMm2: number;
}

/** Side of the cells and of the bins across, mm. */
const CELL_MM = 1.3;
/** With less lack of dwell in the whole zone nothing is looked for, mm2. */
const LEAST_TOLD_MM2 = 150;
/** Where less is told at the strongest place across, nothing is a band. */
const LEAST_PEAK = 0.4;
/** Bins with fewer cells than these are corners of the zone. */
const LEAST_CELLS = 3;
const DEGREE = Math.PI / 180;
const STEP_DEGREES = 3;
const REFINED_DEGREES = [1.5, 0.75, 0.4, 0.2] as const;

/**
 * Bands in the lack of dwell that a network tells: the direction across which its profile explains most. It needs neither
 * ground on both sides nor a length, so that a seam that cuts a corner and a band at the zone's rim show too.
 *
 * @returns null where too little is told, or nobody told
 */
export function toldBands(surface: ReducedSurface): ToldBands | null {
  const signal = toldSignal(surface);
  if (signal === null) return null;
  const extent = extentOf(signal);
  const told = signalAcross({ signal, extent, mix: [1, 0], binMm: CELL_MM });
  const explainedBy = (angle: number): number => told.explainedBy({ angle, bendPerMm: 0 });
  let angle = bestOf(
    Array.from({ length: 180 / STEP_DEGREES }, (_, k) => k * STEP_DEGREES * DEGREE),
    explainedBy,
  );
  for (const degrees of REFINED_DEGREES) {
    angle = bestOf([angle, angle - degrees * DEGREE, angle + degrees * DEGREE], explainedBy);
  }
  const frame = { angle, bendPerMm: 0 };
  const strips = told.profileOf(frame);
  const levels = toldLevels(strips, explainedBy(angle));
  if (levels === null) return null;
  const toldMm2 = levels.dark * signal.stepMm ** 2;
  return { direction: { frame }, extent, strips, levels, toldMm2 };
}

/** The told probability in place of lightness; null where there is too little of it. */
function toldSignal(surface: ReducedSurface): StreakSignal | null {
  if (surface.underDwell === null) return null;
  const { width, height, stepMm, weight, underDwell } = reduceSurface(
    surface,
    Math.max(1, Math.round(CELL_MM / surface.stepMm)),
  );
  if (underDwell === null) return null;
  const told = underDwell.reduce((sum, share, i) => sum + weight[i] * share, 0);
  if (told * stepMm ** 2 < LEAST_TOLD_MM2) return null;
  return { width, height, stepMm, weight, lightness: underDwell, chroma: new Float32Array(weight.length) };
}

function bestOf(angles: readonly number[], value: (angle: number) => number): number {
  const values = angles.map(value);
  return angles[values.indexOf(Math.max(...values))];
}

/**
 * The profile cut at half its height; `dark` is the weighted sum of the probability above. Null where it is low throughout.
 * @param explained share of the variance of the told probability that the profile explains
 */
function toldLevels(strips: StripSignal, explained: number): (ProfileLevels & { readonly dark: number }) | null {
  const { bins, value, weight: sums } = strips;
  const weight = new Float64Array(bins);
  const profile = new Float64Array(bins);
  for (let t = 0; t < bins; t++) {
    const w = sums[t + 1] - sums[t];
    if (w < LEAST_CELLS) continue;
    weight[t] = w;
    profile[t] = (value[t + 1] - value[t]) / w;
  }
  const contrast = Math.max(...profile);
  if (contrast < LEAST_PEAK) return null;
  const ground = new Float64Array(bins);
  const half = contrast / 2;
  let [dark, cover, total] = [0, 0, 0];
  for (let t = 0; t < bins; t++) {
    total += weight[t];
    if (profile[t] <= half) continue;
    dark += weight[t] * profile[t];
    cover += weight[t];
  }
  const runs = darkRuns(strips, { profile, weight, ground, half });
  return { runs, contrast, groundDeviation: 0, cover: cover / total, explained, ground, profile, weight, dark };
}
