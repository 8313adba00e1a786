import { ciede2000Metric } from '../../colour/ciede2000.ts';
import type { BandCandidate } from './band-candidate.ts';
import type { BandColours } from './band-colours.ts';
import type { DarkRun } from './profile-levels.ts';
import type { ReducedSurface } from '../surface/reduce-surface.ts';

/** A bead is no wider, mm (common practice: 3 to 15), and its ripples lie 0.8 to 3.6 mm apart. */
const MOST_BEAD_MM = 15;
const RIPPLES_MM = { least: 0.8, most: 3.6 } as const;
/** A weld is one line or two through a zone; more are streaks. */
const MOST_WELDS = 2;
/** A bead and tint on both sides of it, and one more. */
const MOST_RUNS = 4;
/**
 * Share of the colour's change across a line that leaves the straight way from ground to line. Chosen on test surfaces: heat
 * tint, which runs through straw, purple and blue, has 0.24 and more, films hardly ever more than 0.15.
 */
const COLOUR_TURN = 0.2;
/** Correlation with itself one ripple on, from which a line is a bead, and two ripples on. Chosen on test surfaces. */
const RIPPLE_CORRELATION = { once: 0.36, twice: 0.18 } as const;

/** True where one or two lines are a weld rather than streaks: colours of heat beside a bead, or ripples along it. */
export function isWeld(candidate: BandCandidate, colours: BandColours, surface: ReducedSurface): boolean {
  const { runs } = candidate.levels;
  const lines = joinRuns(runs);
  if (runs.length > MOST_RUNS) return false;
  if (lines.length === 0 || lines.length > MOST_WELDS) return false;
  return (
    lines.every((line) => colourTurn(line, colours) > COLOUR_TURN) ||
    lines.some((line) => hasRipples(candidate, line, surface))
  );
}

type Stretch = Pick<DarkRun, 'startMm' | 'endMm'>;

/** Runs with no more than a bead between them are one line. */
function joinRuns(runs: readonly DarkRun[]): Stretch[] {
  const joined: { startMm: number; endMm: number }[] = [];
  for (const { startMm, endMm } of runs) {
    const last = joined.at(-1);
    if (last !== undefined && startMm - last.endMm < MOST_BEAD_MM) last.endMm = endMm;
    else joined.push({ startMm, endMm });
  }
  return joined;
}

/** Root mean square distance of a line's colours from their mean direction off the ground, as a share of their distance. */
function colourTurn({ startMm, endMm }: Stretch, { profile, ground }: Pick<BandColours, 'profile' | 'ground'>): number {
  const metric = ciede2000Metric(ground);
  const product = (p: readonly number[], q: readonly number[]): number =>
    p.reduce((sum, v, i) => sum + v * q.reduce((inner, w, j) => inner + metric[3 * i + j] * w, 0), 0);
  const offsets: { weight: number; colour: readonly number[] }[] = [];
  for (let bin = 0; bin < profile.bins; bin++) {
    const place = profile.startMm + (bin + 0.5) * profile.binMm;
    const weight = profile.weight[bin];
    if (weight === 0 || place < startMm || place > endMm) continue;
    offsets.push({ weight, colour: [profile.L[bin] - ground.L, profile.a[bin] - ground.a, profile.b[bin] - ground.b] });
  }
  const mean = [0, 1, 2].map((k) => offsets.reduce((sum, { weight, colour }) => sum + weight * colour[k], 0));
  const size = product(mean, mean);
  let [off, all] = [0, 0];
  for (const { weight, colour } of offsets) {
    const length = product(colour, colour);
    all += weight * length;
    off += weight * (length - (size > 0 ? product(colour, mean) ** 2 / size : 0));
  }
  return all > 0 ? Math.sqrt(Math.max(0, off) / all) : 0;
}

/** Half-width of the line along which ripples are looked for, mm, and the distance between such lines. */
const RIPPLE_LINE_MM = { half: 1.2, step: 2 } as const;

/** Whether lightness along some line within the stretch repeats itself at the distance of ripples. */
function hasRipples(candidate: BandCandidate, { startMm, endMm }: Stretch, surface: ReducedSurface): boolean {
  if (endMm - startMm > 4 * MOST_BEAD_MM) return false;
  const { direction, extent } = candidate;
  const step = surface.stepMm;
  const count = Math.ceil((2 * extent.reachMm) / step);
  const rows = Math.max(1, Math.floor((endMm - startMm) / RIPPLE_LINE_MM.step));
  const sums = new Float64Array(rows * count);
  const weights = new Float64Array(rows * count);
  const [cos, sin] = [Math.cos(direction.frame.angle), Math.sin(direction.frame.angle)];
  for (let y = 0, i = 0; y < surface.height; y++) {
    const dy = (y + 0.5) * step - extent.middleY;
    for (let x = 0; x < surface.width; x++, i++) {
      if (surface.weight[i] === 0) continue;
      const dx = (x + 0.5) * step - extent.middleX;
      const along = dx * cos + dy * sin;
      const across = dy * cos - dx * sin - (direction.frame.bendPerMm / 2) * along * along;
      const place = (across - startMm) / RIPPLE_LINE_MM.step - 0.5;
      const row = Math.round(place);
      if (row < 0 || row >= rows || Math.abs(place - row) * RIPPLE_LINE_MM.step > RIPPLE_LINE_MM.half) continue;
      const at = row * count + Math.floor((along + extent.reachMm) / step);
      sums[at] += surface.weight[i] * surface.L[i];
      weights[at] += surface.weight[i];
    }
  }
  for (let start = 0; start < rows * count; start += count) {
    if (isRippled(sums.subarray(start, start + count), weights.subarray(start, start + count), step)) return true;
  }
  return false;
}

/** Repeats itself once and twice a ripple's distance on, and turns over half way. */
function isRippled(sums: Float64Array, weight: Float64Array, step: number): boolean {
  const rough = withoutTrend(sums, weight, Math.round(2.5 / step));
  const correlation = (lag: number): number => {
    let [product, energy] = [0, 0];
    for (let i = 0; i + lag < rough.length; i++) {
      product += rough[i] * rough[i + lag];
      energy += (rough[i] ** 2 + rough[i + lag] ** 2) / 2;
    }
    return energy > 0 ? product / energy : 0;
  };
  const last = Math.round(RIPPLES_MM.most / step);
  for (let lag = Math.max(2, Math.round(RIPPLES_MM.least / step)); lag <= last; lag++) {
    const isTurned = correlation(Math.round(lag / 2)) < 0;
    if (isTurned && correlation(lag) > RIPPLE_CORRELATION.once && correlation(2 * lag) > RIPPLE_CORRELATION.twice) {
      return true;
    }
  }
  return false;
}

function withoutTrend(sums: Float64Array, weight: Float64Array, reach: number): Float64Array {
  const value = sums.map((sum, i) => (weight[i] > 0 ? sum / weight[i] : 0));
  return value.map((v, i) => {
    if (weight[i] === 0) return 0;
    let [sum, total] = [0, 0];
    for (let k = Math.max(0, i - reach); k < Math.min(value.length, i + reach + 1); k++) {
      if (weight[k] === 0) continue;
      sum += value[k];
      total++;
    }
    return v - sum / total;
  });
}
