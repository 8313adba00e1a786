import { commonVariance } from './common-variance.ts';
import type { Channel } from './common-variance.ts';
import { median } from '../surface/robust-deviation.ts';
import type { StreakSignal } from '../surface/streak-signal.ts';
import { stripProjector } from './strip-profiles.ts';
import type { Extent, StripProfiles, StripeFrame } from './strip-profiles.ts';

/** A direction in which something is drawn through the whole zone. */
export interface StripeDirection {
  readonly frame: StripeFrame;
  readonly channel: Channel;
  /** Half-width of the step filter that showed it, mm. */
  readonly reachMm: number;
  /** Common variance above the usual of all directions, in robust deviations of it. */
  readonly standout: number;
}

export interface DirectionSearch {
  readonly extent: Extent;
  readonly strips: number;
  readonly count: number;
}

type Project = (frame: StripeFrame) => StripProfiles;

const DEGREE = Math.PI / 180;
const STEP_DEGREES = 2;
const DIRECTIONS = 180 / STEP_DEGREES;
/** Half-widths of the step filters, mm, for seams, narrow and wide bands, and at which of the steps they are tried. */
export const REACHES = [
  { mm: 2.4, every: 1 },
  { mm: 7, every: 2 },
  { mm: 14, every: 2 },
] as const;
/** Less than this can come from chance alone: on unstreaked test surfaces the largest of all directions reaches 3 to 5. */
const LEAST_STANDOUT = 3;
/** Directions this close are one. */
const SAME_DEGREES = 8;

export const directionBinMm = (signal: StreakSignal): number => Math.max(1.2, signal.stepMm);

/** The most outstanding directions first, each with the bend that shows it best. */
export function stripeDirections(signal: StreakSignal, search: DirectionSearch): StripeDirection[] {
  const project = stripProjector(signal, search.extent, { strips: search.strips, binMm: directionBinMm(signal) });
  const found = directionsOf(project);
  found.sort((p, q) => q.standout - p.standout);
  const kept: Found[] = [];
  for (const next of found) {
    if (kept.length >= search.count || next.standout < LEAST_STANDOUT) break;
    if (kept.every((other) => degreesApart(other.degrees, next.degrees) > SAME_DEGREES)) kept.push(next);
  }
  return kept.map((direction) => refineFrame(direction, project));
}

interface Found extends StripeDirection {
  readonly degrees: number;
}

/** Between two directions of [0, 180), degrees. */
export function degreesApart(a: number, b: number): number {
  const apart = Math.abs(a - b);
  return Math.min(apart, 180 - apart);
}

function directionsOf(project: Project): Found[] {
  const looks = REACHES.flatMap(({ mm, every }) =>
    (['lightness', 'chroma'] as const).map((channel) => ({
      channel,
      reachMm: mm,
      every,
      variance: new Float64Array(DIRECTIONS / every),
    })),
  );
  for (let step = 0; step < DIRECTIONS; step++) {
    const profiles = project({ angle: STEP_DEGREES * step * DEGREE, bendPerMm: 0 });
    for (const look of looks) {
      if (step % look.every !== 0) continue;
      const reach = reachBins(look.reachMm, profiles);
      look.variance[step / look.every] = commonVariance(profiles, profiles[look.channel], reach);
    }
  }
  return looks.flatMap(({ channel, reachMm, every, variance }) =>
    standouts(variance).map(({ step, standout }) => {
      const degrees = STEP_DEGREES * every * step;
      return { degrees, standout, channel, reachMm, frame: { angle: degrees * DEGREE, bendPerMm: 0 } };
    }),
  );
}

export const reachBins = (reachMm: number, { binMm }: Pick<StripProfiles, 'binMm'>): number =>
  Math.max(1, Math.round(reachMm / binMm));

function standouts(variance: Float64Array): { step: number; standout: number }[] {
  const count = variance.length;
  const usual = median(variance);
  const spread = Math.max(1.4826 * median(variance.map((v) => Math.abs(v - usual))), 1e-9);
  const peaks: { step: number; standout: number }[] = [];
  for (let step = 0; step < count; step++) {
    const before = variance[(step + count - 1) % count];
    const after = variance[(step + 1) % count];
    if (variance[step] < before || variance[step] < after) continue;
    peaks.push({ step, standout: (variance[step] - usual) / spread });
  }
  return peaks;
}

/** Bends tried, as radii in mm: stripes of a hand that swings about the elbow (common practice), and flatter. */
const RADII_MM = [300, 500, 1000] as const;
/** A bent stripe shows first in the direction of one of its ends. */
const END_TURNS = [-4, 0, 4] as const;

/** Direction and bend that make the common variance largest, step by step. */
function refineFrame(direction: StripeDirection, project: Project): StripeDirection {
  let best = direction.frame;
  let most = -Infinity;
  const tryFrame = (frame: StripeFrame): void => {
    const profiles = project(frame);
    const reach = reachBins(direction.reachMm, profiles);
    const variance = commonVariance(profiles, profiles[direction.channel], reach);
    if (variance <= most) return;
    most = variance;
    best = frame;
  };
  const turn = (steps: readonly number[]): void => {
    const from = best;
    for (const degrees of steps) tryFrame({ ...from, angle: from.angle + degrees * DEGREE });
  };
  tryFrame(best);
  turn(direction.reachMm === REACHES[0].mm ? [-1, 1] : [-2, -1, 1, 2]);
  const { angle } = best;
  for (const radius of RADII_MM) {
    for (const bendPerMm of [-1 / radius, 1 / radius]) {
      for (const degrees of END_TURNS) tryFrame({ angle: angle + degrees * DEGREE, bendPerMm });
    }
  }
  turn(best.bendPerMm === 0 ? [-0.5, 0.5] : [-2, -1, -0.5, 0.5, 1, 2]);
  const bent = best;
  for (const change of [-1 / 2500, -1 / 5000, 1 / 5000, 1 / 2500]) {
    tryFrame({ ...bent, bendPerMm: bent.bendPerMm + change });
  }
  turn([-0.25, 0.25]);
  return { ...direction, frame: best };
}
