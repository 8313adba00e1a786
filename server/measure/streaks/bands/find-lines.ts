import { lineShape } from './line-shape.ts';
import type { LineShape } from './line-shape.ts';
import type { StripProfiles } from './strip-profiles.ts';

/** A dark line or band of a profile. Places in mm across the stripes, from the middle. */
export interface ProfileLine {
  readonly centreMm: number;
  readonly widthMm: number;
  /** Depth against the darker of its two flanks: median over the strips, dE00. */
  readonly depth: number;
  /** Share of the strips that it crosses in which it shows. */
  readonly presence: number;
  /** Length over which it could be looked at, mm. */
  readonly lengthMm: number;
  /** Depth over its standard error from strip to strip. */
  readonly steadiness: number;
}

/** Widths tried, mm: a seam is 1.5 to 8, a band up to 45, and more where the hand ran. */
const LINE_WIDTHS_MM = [1.5, 2.1, 3, 4.2, 6, 8.5, 12, 17, 24, 34, 45, 62, 85] as const;

/** One signal per strip with running sums, so that the mean of any stretch costs two look-ups. */
export interface StripSignal extends Pick<
  StripProfiles,
  'strips' | 'bins' | 'binMm' | 'startMm' | 'stripMm' | 'fullBin'
> {
  readonly value: Float64Array;
  readonly weight: Float64Array;
}

/** @param mix shares of lightness and chroma in the signal; larger is darker */
export function stripSignal(profiles: StripProfiles, mix: readonly [number, number]): StripSignal {
  const { lightness, chroma } = profiles;
  return {
    ...profiles,
    weight: Float64Array.from(profiles.weight),
    value: lightness.map((v, i) => mix[0] * v + mix[1] * chroma[i]),
  };
}

interface Response {
  readonly bin: number;
  readonly width: number;
  readonly depth: number;
  readonly score: number;
  readonly presence: number;
  readonly steadiness: number;
  readonly strips: number;
}

/** Depth grows little with width in cloudy steel: wider is preferred only as this power of the width. */
const WIDTH_POWER = 0.3;
/** A strip takes part where core and flanks are usable to this share. */
const LEAST_FILL = 0.45;
const LEAST_LENGTH_MM = 30;
/** Lines shallower than this share of the deepest are not told from ground. */
const LEAST_SHARE = 0.3;
const MOST_LINES = 60;

/** The deepest lines first. */
export function findLines(signal: StripSignal): ProfileLine[] {
  const responses = LINE_WIDTHS_MM.flatMap((widthMm) => responsesOf(signal, widthMm));
  const ranked = responses.filter((r) => r.depth > 0).sort((p, q) => q.score - p.score);
  const lines: Response[] = [];
  for (const next of ranked) {
    if (lines.length >= MOST_LINES || (lines.length > 0 && next.depth < LEAST_SHARE * lines[0].depth)) continue;
    if (lines.every((line) => Math.abs(line.bin - next.bin) * signal.binMm >= 0.5 * (line.width + next.width) + 0.5)) {
      lines.push(next);
    }
  }
  return lines.map((line) => lineOf(signal, line));
}

const lineOf = (signal: StripSignal, line: Response): ProfileLine => ({
  centreMm: signal.startMm + line.bin * signal.binMm,
  widthMm: line.width,
  depth: line.depth,
  presence: line.presence,
  lengthMm: line.strips * signal.stripMm,
  steadiness: line.steadiness,
});

/** Depth of a line in each strip that shows core and flanks, written from the start of `depths`; returns how many there are. */
function depthsAlong(signal: StripSignal, bin: number, { half, gap, far }: LineShape, depths: Float64Array): number {
  let used = 0;
  for (let s = 0; s < signal.strips; s++) {
    const base = s * (signal.bins + 1) + bin;
    const core = mean(signal, base - half, base + half);
    const left = mean(signal, base - far, base - gap);
    const right = mean(signal, base + gap, base + far);
    if (!Number.isNaN(core + left + right)) depths[used++] = core - Math.max(left, right);
  }
  return used;
}

/** Depth of one line strip by strip: what strips shorter than those it was found in show. */
export function lineDepths(signal: StripSignal, { centreMm, widthMm }: ProfileLine): Float64Array {
  const shape = lineShape(widthMm, signal.binMm);
  const bin = Math.round((centreMm - signal.startMm) / signal.binMm);
  const depths = new Float64Array(signal.strips);
  if (bin < shape.far || bin + shape.far > signal.bins) return depths.slice(0, 0);
  return depths.slice(0, depthsAlong(signal, bin, shape, depths));
}

function responsesOf(signal: StripSignal, widthMm: number): Response[] {
  const { strips, bins, binMm } = signal;
  const shape = lineShape(widthMm, binMm);
  const { far } = shape;
  const found: Response[] = [];
  const depths = new Float64Array(strips);
  const step = Math.max(1, Math.round((0.1 * widthMm) / binMm));
  for (let bin = far; bin + far <= bins; bin += step) {
    const used = depthsAlong(signal, bin, shape, depths);
    if (used < 3 || used * signal.stripMm < LEAST_LENGTH_MM) continue;
    found.push(responseOf(depths.slice(0, used), bin, widthMm));
  }
  return found;
}

/** Mean between two running sums; NaN where too little is usable. */
function mean(signal: StripSignal, from: number, to: number): number {
  const weight = signal.weight[to] - signal.weight[from];
  if (weight < LEAST_FILL * signal.fullBin * (to - from)) return NaN;
  return (signal.value[to] - signal.value[from]) / weight;
}

function responseOf(depths: Float64Array, bin: number, width: number): Response {
  const sorted = depths.sort();
  const n = sorted.length;
  const middle = n % 2 === 1 ? sorted[n >> 1] : (sorted[n / 2 - 1] + sorted[n / 2]) / 2;
  const average = sorted.reduce((sum, d) => sum + d, 0) / n;
  const spread = Math.sqrt(sorted.reduce((sum, d) => sum + (d - average) ** 2, 0) / (n - 1));
  const depth = Math.min(middle, average * 1.25);
  return {
    bin,
    width,
    depth,
    score: depth * width ** WIDTH_POWER,
    presence: sorted.filter((d) => d > 0.35 * depth).length / n,
    steadiness: average / Math.max(spread / Math.sqrt(n), 1e-6),
    strips: n,
  };
}
