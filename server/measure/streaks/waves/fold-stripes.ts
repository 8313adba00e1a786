import { ciede2000, ciede2000Metric } from '../../colour/ciede2000.ts';
import type { Lab } from '../../colour/cie-lab.ts';
import type { StripeSamples } from './stripe-samples.ts';

/** One period of even stripes, averaged over all of them. */
export interface FoldedStripes {
  readonly ground: Lab;
  readonly core: Lab;
  /** CIEDE2000 between the two. */
  readonly contrast: number;
  /** Share of a period on the dark side of half way. */
  readonly darkShare: number;
  /** Where in the period the middle of the dark part lies, cycles. */
  readonly darkCycle: number;
  /** Share of the period's change in colour that leaves its main direction, as a root of energies: 0 for a film of one colour. */
  readonly colourTurn: number;
}

const BINS = 40;
/** Shares of the step from the lightest to the darkest bin: core beyond the one, ground short of the other. */
const CORE_LEVEL = 0.75;
const GROUND_LEVEL = 0.2;

/** What smears a period of the fold: the raster's pixels, the photo's, and strokes that stray from their places. */
export interface FoldBlur {
  readonly pitchMm: number;
  readonly stepMm: number;
  readonly photoPixelMm: number;
  /** Root mean square distance of stripes from even places, cycles. */
  readonly strayCycles: number;
}

/** Null where some part of the period was nowhere seen. */
export function foldStripes(samples: StripeSamples, blur: FoldBlur): FoldedStripes | null {
  const bins = sumBins(samples);
  if (bins.weight.some((w) => w === 0)) return null;
  for (const colour of [bins.L, bins.a, bins.b]) sharpen(colour, harmonicGains(blur));
  const { depth, colourTurn } = depthOf(bins);
  const [low, high] = [quantileOf(depth, 0.06), quantileOf(depth, 0.97)];
  const level = depth.map((d) => (d - low) / Math.max(high - low, 1e-9));
  const core = meanBins(bins, (i) => level[i] >= CORE_LEVEL);
  const ground = meanBins(bins, (i) => level[i] <= GROUND_LEVEL);
  const dark = level.filter((v) => v > 0.5).length;
  return {
    core,
    ground,
    contrast: ciede2000(ground, core),
    darkShare: dark / BINS,
    darkCycle: middleOfDark(level),
    colourTurn,
  };
}

interface Bins {
  readonly weight: Float64Array;
  readonly L: Float64Array;
  readonly a: Float64Array;
  readonly b: Float64Array;
}

function sumBins(samples: StripeSamples): Bins {
  const cells = (): Float64Array => new Float64Array(BINS);
  const bins = { weight: cells(), L: cells(), a: cells(), b: cells() };
  for (let i = 0; i < samples.count; i++) {
    const cycles = samples.cycles[i];
    const bin = Math.min(BINS - 1, Math.floor((cycles - Math.floor(cycles)) * BINS));
    bins.weight[bin]++;
    bins.L[bin] += samples.L[i];
    bins.a[bin] += samples.a[i];
    bins.b[bin] += samples.b[i];
  }
  for (const means of [bins.L, bins.a, bins.b]) for (let k = 0; k < BINS; k++) means[k] /= bins.weight[k] || 1;
  return bins;
}

/** Standard deviation of the blur of lens, sensor and file, photo pixels: usual for phones (common practice). */
const PHOTO_BLUR_PX = 0.6;
/** Strays beyond this are noise of the measurement rather than of the hand. */
const MOST_STRAY_CYCLES = 0.06;
/** Part of the strays that the smoothed phase has not followed. */
const STRAY_SHARE = 0.6;
/** No harmonic is raised more than this: what is lost deeper is noise. */
const MOST_GAIN = 2;
const HARMONICS = 6;

/**
 * How much to raise each harmonic of the period: inverse of the cell's sinc, of a Gaussian for the photo and one for strays.
 * Source: transfer functions of a box, sin(pi w f) / (pi w f), and of a Gaussian, exp(-2 (pi s f)^2).
 */
function harmonicGains({ pitchMm, stepMm, photoPixelMm, strayCycles }: FoldBlur): number[] {
  const stray = STRAY_SHARE * Math.min(strayCycles, MOST_STRAY_CYCLES);
  return Array.from({ length: HARMONICS }, (_, k) => {
    const n = k + 1;
    const box = (Math.PI * n * stepMm) / pitchMm;
    const gaussian = Math.exp(
      -2 * (Math.PI * n) ** 2 * ((PHOTO_BLUR_PX * photoPixelMm) ** 2 / pitchMm ** 2 + stray ** 2),
    );
    const kept = box < Math.PI ? (Math.sin(box) / box) * gaussian : 0;
    return kept > 1 / MOST_GAIN ? 1 / kept : kept * MOST_GAIN ** 2;
  });
}

/** Raises the first harmonics of a period in place; higher ones stay as they are. */
function sharpen(values: Float64Array, gains: readonly number[]): void {
  const n = values.length;
  const change = new Float64Array(n);
  gains.forEach((gain, k) => {
    const turn = (2 * Math.PI * (k + 1)) / n;
    let [re, im] = [0, 0];
    for (let i = 0; i < n; i++) {
      re += (2 / n) * values[i] * Math.cos(turn * i);
      im += (2 / n) * values[i] * Math.sin(turn * i);
    }
    for (let i = 0; i < n; i++) change[i] += (gain - 1) * (re * Math.cos(turn * i) + im * Math.sin(turn * i));
  });
  for (let i = 0; i < n; i++) values[i] += change[i];
}

/** Place of each bin along the main direction in which the period's colours differ, dE00; larger is darker, or stronger in colour. */
function depthOf(bins: Bins): { depth: Float64Array; colourTurn: number } {
  const mean = meanBins(bins, () => true);
  const metric = ciede2000Metric(mean);
  const offset = (k: number): [number, number, number] => [bins.L[k] - mean.L, bins.a[k] - mean.a, bins.b[k] - mean.b];
  const product = (p: readonly number[], q: readonly number[]): number =>
    p.reduce((sum, v, i) => sum + v * q.reduce((inner, w, j) => inner + metric[3 * i + j] * w, 0), 0);
  // Power iteration from the largest offset finds the main direction of so few colours in no time.
  let axis: readonly number[] = [...Array(BINS).keys()]
    .map(offset)
    .reduce((p, q) => (product(q, q) > product(p, p) ? q : p));
  for (let round = 0; round < 8; round++) {
    const next = [0, 0, 0];
    for (let k = 0; k < BINS; k++) {
      const d = offset(k);
      const share = product(d, axis);
      for (let i = 0; i < 3; i++) next[i] += share * d[i];
    }
    const size = Math.sqrt(product(next, next)) || 1;
    axis = next.map((v) => v / size);
  }
  const isDarkening = Math.abs(axis[0]) > 0.2 ? axis[0] < 0 : axis[2] > 0;
  const sign = isDarkening ? 1 : -1;
  const depth = Float64Array.from({ length: BINS }, (_, k) => sign * product(offset(k), axis));
  let [all, along] = [0, 0];
  for (let k = 0; k < BINS; k++) {
    all += product(offset(k), offset(k));
    along += depth[k] ** 2;
  }
  return { depth, colourTurn: all > 0 ? Math.sqrt(Math.max(0, all - along) / all) : 0 };
}

function meanBins(bins: Bins, isWanted: (bin: number) => boolean): Lab {
  const sum = { L: 0, a: 0, b: 0, weight: 0 };
  for (let k = 0; k < BINS; k++) {
    if (!isWanted(k)) continue;
    sum.L += bins.weight[k] * bins.L[k];
    sum.a += bins.weight[k] * bins.a[k];
    sum.b += bins.weight[k] * bins.b[k];
    sum.weight += bins.weight[k];
  }
  const n = sum.weight || 1;
  return { L: sum.L / n, a: sum.a / n, b: sum.b / n };
}

function quantileOf(values: Float64Array, share: number): number {
  const sorted = Float64Array.from(values).sort();
  return sorted[Math.round(share * (sorted.length - 1))];
}

/** Circular mean of the dark bins, weighted by how dark they are. */
function middleOfDark(level: Float64Array): number {
  let [re, im] = [0, 0];
  level.forEach((v, k) => {
    const angle = (2 * Math.PI * (k + 0.5)) / BINS;
    const w = Math.max(0, v - 0.3);
    re += w * Math.cos(angle);
    im += w * Math.sin(angle);
  });
  const turn = Math.atan2(im, re) / (2 * Math.PI);
  return turn - Math.floor(turn);
}
