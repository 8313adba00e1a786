import type { StripProfiles } from './band-projection.ts';

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

export interface LineSearch {
  readonly lines: readonly ProfileLine[];
  /** Root mean square of the same measure where no line was found, at the width of the deepest line, dE00. */
  readonly unrest: number;
  /** Largest depth of a light line away from the dark ones, dE00. */
  readonly brightest: number;
}

/** Widths tried, mm: a seam is 1.5 to 8, a band up to 45. */
export const LINE_WIDTHS_MM = [1.5, 2.1, 3, 4.2, 6, 8.5, 12, 17, 24, 34, 45] as const;

/** One signal per strip with running sums, so that the mean of any stretch costs two look-ups. */
export interface StripSignal {
  readonly strips: number;
  readonly bins: number;
  readonly binMm: number;
  readonly startMm: number;
  readonly stripMm: number;
  /** Weight of a full bin of a strip. */
  readonly fullBin: number;
  readonly value: Float64Array;
  readonly weight: Float64Array;
}

/** @param mix shares of lightness and chroma in the signal; larger is darker */
export function stripSignal(
  profiles: StripProfiles,
  mix: readonly [number, number],
  strip: { lengthMm: number; stepMm: number },
): StripSignal {
  const { strips, bins, weight, lightness, chroma, binMm, startMm } = profiles;
  const value = new Float64Array(strips * (bins + 1));
  const sums = new Float64Array(strips * (bins + 1));
  for (let s = 0; s < strips; s++) {
    for (let t = 0; t < bins; t++) {
      const from = s * bins + t;
      const to = s * (bins + 1) + t;
      value[to + 1] = value[to] + mix[0] * lightness[from] + mix[1] * chroma[from];
      sums[to + 1] = sums[to] + weight[from];
    }
  }
  const fullBin = (binMm * strip.lengthMm) / (strip.stepMm * strip.stepMm);
  return { strips, bins, binMm, startMm, stripMm: strip.lengthMm, fullBin, value, weight: sums };
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

export function findLines(signal: StripSignal): LineSearch {
  const responses = LINE_WIDTHS_MM.flatMap((widthMm) => responsesOf(signal, widthMm));
  const ranked = responses.filter((r) => r.depth > 0).sort((p, q) => q.score - p.score);
  const lines: Response[] = [];
  for (const next of ranked) {
    if (lines.length >= MOST_LINES || (lines.length > 0 && next.depth < LEAST_SHARE * lines[0].depth)) continue;
    if (lines.every((line) => Math.abs(line.bin - next.bin) * signal.binMm >= 0.5 * (line.width + next.width) + 0.5))
      lines.push(next);
  }
  if (lines.length === 0) return { lines: [], unrest: 0, brightest: 0 };
  return { lines: lines.map((line) => lineOf(signal, line)), ...restOf(signal, responses, lines) };
}

const lineOf = (signal: StripSignal, line: Response): ProfileLine => ({
  centreMm: signal.startMm + line.bin * signal.binMm,
  widthMm: line.width,
  depth: line.depth,
  presence: line.presence,
  lengthMm: line.strips * signal.stripMm,
  steadiness: line.steadiness,
});

function restOf(
  signal: StripSignal,
  responses: readonly Response[],
  lines: readonly Response[],
): { unrest: number; brightest: number } {
  const [deepest] = lines;
  let [squares, count, brightest] = [0, 0, 0];
  for (const r of responses) {
    const reach = (line: Response): number => 0.5 * line.width + 0.5 * r.width + flankMm(r.width) + 1;
    if (lines.some((line) => Math.abs(line.bin - r.bin) * signal.binMm < reach(line))) continue;
    if (r.width === deepest.width) {
      squares += r.depth * r.depth;
      count++;
    }
  }
  for (const r of brightLines(signal, deepest.width)) {
    const reach = (line: Response): number => 0.5 * line.width + 0.5 * r.width + flankMm(r.width) + 1;
    if (lines.some((line) => Math.abs(line.bin - r.bin) * signal.binMm < reach(line))) continue;
    brightest = Math.max(brightest, r.depth);
  }
  return { unrest: count === 0 ? 0 : Math.sqrt(squares / count), brightest };
}

const brightLines = (signal: StripSignal, widthMm: number): Response[] => {
  const flipped = { ...signal, value: signal.value.map((v) => -v) };
  return responsesOf(flipped, widthMm);
};

/** Ground beside a line: wide enough to be steady, near enough to be the same ground. */
const flankMm = (widthMm: number): number => Math.min(10, Math.max(2, 0.6 * widthMm));

function responsesOf(signal: StripSignal, widthMm: number): Response[] {
  const { strips, bins, binMm } = signal;
  const half = Math.max(1, Math.round((0.35 * widthMm) / binMm));
  const gap = Math.max(half, Math.round((0.62 * widthMm) / binMm));
  const far = gap + Math.max(2, Math.round(flankMm(widthMm) / binMm));
  const found: Response[] = [];
  const depths = new Float64Array(strips);
  const step = Math.max(1, Math.round((0.1 * widthMm) / binMm));
  for (let bin = far; bin + far <= bins; bin += step) {
    let used = 0;
    for (let s = 0; s < strips; s++) {
      const base = s * (bins + 1) + bin;
      const core = mean(signal, base - half, base + half);
      const left = mean(signal, base - far, base - gap);
      const right = mean(signal, base + gap, base + far);
      if (Number.isNaN(core + left + right)) continue;
      depths[used++] = core - Math.max(left, right);
    }
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
  const median = n % 2 === 1 ? sorted[n >> 1] : (sorted[n / 2 - 1] + sorted[n / 2]) / 2;
  const average = sorted.reduce((sum, d) => sum + d, 0) / n;
  const spread = Math.sqrt(sorted.reduce((sum, d) => sum + (d - average) ** 2, 0) / (n - 1));
  const depth = Math.min(median, average * 1.25);
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
