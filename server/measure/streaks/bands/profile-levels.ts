import type { ProfileLine, StripSignal } from './find-lines.ts';

/** A stretch of the profile that lies on the dark level. Places in mm across, from the middle. */
export interface DarkRun {
  readonly startMm: number;
  readonly endMm: number;
  /** Whether the usable part of the profile ends inside it. */
  readonly isCut: boolean;
}

/** mm across, from the middle of the profile. */
export const middleOf = ({ startMm, endMm }: DarkRun): number => (startMm + endMm) / 2;
/** mm. */
export const widthOf = ({ startMm, endMm }: DarkRun): number => endMm - startMm;

/** The profile sorted into ground and stripes. */
export interface ProfileLevels {
  readonly runs: readonly DarkRun[];
  /** Mean of stripes over ground, in the signal's dE00. */
  readonly contrast: number;
  /** Standard deviation of the ground along the profile, dE00. */
  readonly groundDeviation: number;
  /** Share of the profile on the dark level. */
  readonly cover: number;
  /** Share of the profile's variance that the two levels explain: 0.64 for normal noise cut at its mean, 1 for two flat levels. */
  readonly explained: number;
  /** Ground level at each bin, taken from the ground alone; the profile itself; weights, 0 where nothing is usable. */
  readonly ground: Float64Array;
  readonly profile: Float64Array;
  readonly weight: Float64Array;
}

const ROUNDS = 4;
/** Reach of the ground's slow change along the profile, mm. */
const TREND_MM = 22;
const LEAST_STRIPS = 3;

export function profileLevels(signal: StripSignal, seeds: readonly ProfileLine[]): ProfileLevels {
  const { profile, weight } = meanProfile(signal);
  let isDark = seedMask(signal, seeds);
  let ground = trendOf(profile, weight, isDark, signal.binMm);
  let levels = measureLevels(profile, weight, ground, isDark);
  for (let round = 0; round < ROUNDS; round++) {
    const limit = 0.5 * levels.contrast;
    isDark = isDark.map((_, t) => (weight[t] > 0 && profile[t] - ground[t] > limit ? 1 : 0));
    ground = trendOf(profile, weight, dilate(isDark), signal.binMm);
    levels = measureLevels(profile, weight, ground, isDark);
  }
  return {
    ...levels,
    runs: darkRuns(signal, { profile, weight, ground, half: 0.5 * levels.contrast }),
    ground,
    profile,
    weight,
  };
}

function meanProfile(signal: StripSignal): { profile: Float64Array; weight: Float64Array } {
  const { strips, bins, value, weight: sums, fullBin } = signal;
  const profile = new Float64Array(bins);
  const weight = new Float64Array(bins);
  for (let t = 0; t < bins; t++) {
    let [sum, total, used] = [0, 0, 0];
    for (let s = 0; s < strips; s++) {
      const base = s * (bins + 1) + t;
      const w = sums[base + 1] - sums[base];
      if (w > 0.2 * fullBin) used++;
      sum += value[base + 1] - value[base];
      total += w;
    }
    if (used < LEAST_STRIPS) continue;
    profile[t] = sum / total;
    weight[t] = total;
  }
  return { profile, weight };
}

function seedMask(signal: StripSignal, seeds: readonly ProfileLine[]): Uint8Array {
  const mask = new Uint8Array(signal.bins);
  for (let t = 0; t < signal.bins; t++) {
    const place = signal.startMm + (t + 0.5) * signal.binMm;
    if (seeds.some((line) => Math.abs(place - line.centreMm) < 0.5 * line.widthMm)) mask[t] = 1;
  }
  return mask;
}

/** One bin more on both sides: flanks are no ground. */
const dilate = (mask: Uint8Array): Uint8Array =>
  mask.map((v, t) => (v === 1 || mask[t - 1] === 1 || mask[t + 1] === 1 ? 1 : 0));

/** Weighted Gaussian mean of the ground bins about each bin. */
function trendOf(profile: Float64Array, weight: Float64Array, isDark: Uint8Array, binMm: number): Float64Array {
  const reach = Math.ceil((3 * TREND_MM) / binMm);
  const kernel = Float64Array.from({ length: reach + 1 }, (_, k) =>
    Math.exp(-((k * binMm) ** 2) / (2 * TREND_MM ** 2)),
  );
  return profile.map((_, t) => {
    let [sum, total] = [0, 0];
    for (let u = Math.max(0, t - reach); u < Math.min(profile.length, t + reach + 1); u++) {
      if (isDark[u] === 1 || weight[u] === 0) continue;
      const w = weight[u] * kernel[Math.abs(t - u)];
      sum += w * profile[u];
      total += w;
    }
    return total > 0 ? sum / total : 0;
  });
}

type Levels = Pick<ProfileLevels, 'contrast' | 'groundDeviation' | 'cover' | 'explained'>;

function measureLevels(profile: Float64Array, weight: Float64Array, ground: Float64Array, isDark: Uint8Array): Levels {
  const sums = [0, 1].map((level) => {
    let [n, sum, squares] = [0, 0, 0];
    for (let t = 0; t < profile.length; t++) {
      if (weight[t] === 0 || isDark[t] !== level || isFlank(isDark, t)) continue;
      const value = profile[t] - ground[t];
      n += weight[t];
      sum += weight[t] * value;
      squares += weight[t] * value * value;
    }
    const mean = n > 0 ? sum / n : 0;
    return { n, mean, variance: n > 0 ? Math.max(0, squares / n - mean * mean) : 0 };
  });
  const [light, dark] = sums;
  const total = light.n + dark.n;
  if (light.n === 0 || dark.n === 0) {
    return { contrast: 0, groundDeviation: 0, cover: dark.n > 0 ? 1 : 0, explained: 0 };
  }
  const contrast = dark.mean - light.mean;
  const share = dark.n / total;
  const between = share * (1 - share) * contrast * contrast;
  const within = share * dark.variance + (1 - share) * light.variance;
  return {
    contrast,
    groundDeviation: Math.sqrt(light.variance),
    cover: share,
    explained: between / (between + within),
  };
}

/** A bin beside a change of level. A one-bin run has no inside and counts as a whole. */
function isFlank(isDark: Uint8Array, t: number): boolean {
  const here = isDark[t];
  const before = isDark[t - 1] ?? here;
  const after = isDark[t + 1] ?? here;
  if (before !== here && after !== here) return false;
  return before !== here || after !== here;
}

/** Stretches of a profile that lie more than `half` over its ground; those beside what is not usable are cut. */
export function darkRuns(
  signal: Pick<StripSignal, 'startMm' | 'binMm'>,
  levels: { profile: Float64Array; weight: Float64Array; ground: Float64Array; half: number },
): DarkRun[] {
  const { profile, weight, ground, half } = levels;
  const over = (t: number): number => profile[t] - ground[t] - half;
  const place = (t: number): number => signal.startMm + (t + 0.5) * signal.binMm;
  const runs: DarkRun[] = [];
  let t = 0;
  while (t < profile.length) {
    if (weight[t] === 0 || over(t) <= 0) {
      t++;
      continue;
    }
    const first = t;
    while (t < profile.length && weight[t] > 0 && over(t) > 0) t++;
    const cutBefore = first === 0 || weight[first - 1] === 0;
    const cutAfter = t >= profile.length || weight[t] === 0;
    const startMm = cutBefore
      ? place(first) - signal.binMm / 2
      : place(first - 1) + (signal.binMm * -over(first - 1)) / (over(first) - over(first - 1));
    const endMm = cutAfter
      ? place(t - 1) + signal.binMm / 2
      : place(t - 1) + (signal.binMm * over(t - 1)) / (over(t - 1) - over(t));
    runs.push({ startMm, endMm, isCut: cutBefore || cutAfter });
  }
  return runs;
}
