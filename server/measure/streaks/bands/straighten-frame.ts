import { solveSymmetric } from '../../geometry/solve-symmetric.ts';
import type { StripSignal } from './find-lines.ts';
import type { StripeFrame } from './strip-profiles.ts';

/** Strips are laid upon the mean of the others within this, mm. */
const MOST_SHIFT_MM = 7;
/** A strip less like the others than this says nothing about where its stripes lie. */
const LEAST_LIKENESS = 0.35;
const LEAST_STRIPS = 4;
/** Share of a strip's places that must be seen. */
const LEAST_SEEN = 0.3;
/** Keeps the bend from following single strips: as if so much of them lay straight. */
const BEND_DAMPING = 0.15;

/**
 * Turns and bends a frame so that the stripes of all strips come to lie at the same places: each strip's shift against the mean
 * of the others, then a parabola through the shifts along the stripes.
 * Source: cross-correlation; weighted least squares.
 */
export function straightenFrame(strips: StripSignal, frame: StripeFrame): StripeFrame {
  return frameThrough(stripShifts(strips), frame);
}

/** Where the stripes of a strip lie, against the frame. */
export interface StripShift {
  readonly alongMm: number;
  readonly shiftMm: number;
  readonly weight: number;
}

/** A frame turned and bent to follow the shifts of its strips; the frame itself where there are too few. */
export function frameThrough(shifts: readonly StripShift[], frame: StripeFrame): StripeFrame {
  if (shifts.length < LEAST_STRIPS) return frame;
  const reach = Math.max(...shifts.map(({ alongMm }) => Math.abs(alongMm)), 1);
  const matrix = new Float64Array(9);
  const right = new Float64Array(3);
  for (const { alongMm, shiftMm, weight } of shifts) {
    const u = alongMm / reach;
    const terms = [1, u, u * u];
    for (let a = 0; a < 3; a++) {
      right[a] += weight * terms[a] * shiftMm;
      for (let b = 0; b < 3; b++) matrix[3 * a + b] += weight * terms[a] * terms[b];
    }
  }
  matrix[8] += BEND_DAMPING * matrix[0];
  const fit = solveSymmetric(matrix, right, 3);
  if (fit === null) return frame;
  return {
    angle: frame.angle + Math.atan(fit[1] / reach),
    bendPerMm: frame.bendPerMm + (2 * fit[2]) / (reach * reach),
  };
}

function stripShifts(signal: StripSignal): StripShift[] {
  const { strips, stripMm, binMm } = signal;
  const profiles = Array.from({ length: strips }, (_, s) => stripProfile(signal, s));
  const most = Math.round(MOST_SHIFT_MM / binMm);
  return profiles.flatMap((profile, s) => {
    const others = meanOf(profiles.filter((_, other) => other !== s));
    const likeness = Float64Array.from({ length: 2 * most + 1 }, (_, k) => likenessAt(profile, others, k - most));
    const best = likeness.indexOf(Math.max(...likeness));
    const here = likeness[best];
    if (!(here > LEAST_LIKENESS) || best === 0 || best === 2 * most) return [];
    const [before, after] = [likeness[best - 1], likeness[best + 1]];
    const bend = before - 2 * here + after;
    const part = bend < 0 ? (0.5 * (before - after)) / bend : 0;
    const alongMm = (s + 0.5 - strips / 2) * stripMm;
    return [{ alongMm, shiftMm: (best - most + part) * binMm, weight: here * here * profile.total }];
  });
}

interface Profile {
  readonly value: Float64Array;
  readonly weight: Float64Array;
  /** Share of its places that are seen. */
  readonly total: number;
}

function stripProfile({ bins, value, weight, fullBin }: StripSignal, strip: number): Profile {
  const start = strip * (bins + 1);
  const profile = { value: new Float64Array(bins), weight: new Float64Array(bins) };
  let seen = 0;
  for (let t = 0; t < bins; t++) {
    const w = weight[start + t + 1] - weight[start + t];
    if (w < LEAST_SEEN * fullBin) continue;
    seen++;
    profile.weight[t] = w;
    profile.value[t] = (value[start + t + 1] - value[start + t]) / w;
  }
  return { ...profile, total: seen / bins };
}

function meanOf(profiles: readonly Profile[]): Profile {
  const bins = profiles[0].value.length;
  const value = new Float64Array(bins);
  const weight = new Float64Array(bins);
  for (const profile of profiles) {
    for (let t = 0; t < bins; t++) {
      weight[t] += profile.weight[t];
      value[t] += profile.weight[t] * profile.value[t];
    }
  }
  for (let t = 0; t < bins; t++) if (weight[t] > 0) value[t] /= weight[t];
  return { value, weight, total: 1 };
}

/** Correlation of a profile, moved back by so many bins, with another; 0 where they share too little. */
function likenessAt(profile: Profile, other: Profile, shift: number): number {
  const bins = profile.value.length;
  let [n, sumA, sumB, squaresA, squaresB, product] = [0, 0, 0, 0, 0, 0];
  for (let t = Math.max(0, -shift); t < Math.min(bins, bins - shift); t++) {
    if (profile.weight[t + shift] === 0 || other.weight[t] === 0) continue;
    const [a, b] = [profile.value[t + shift], other.value[t]];
    n++;
    sumA += a;
    sumB += b;
    squaresA += a * a;
    squaresB += b * b;
    product += a * b;
  }
  if (n < (LEAST_SEEN * bins) / 4) return 0;
  const spread = (squaresA - (sumA * sumA) / n) * (squaresB - (sumB * sumB) / n);
  return spread > 0 ? (product - (sumA * sumB) / n) / Math.sqrt(spread) : 0;
}
