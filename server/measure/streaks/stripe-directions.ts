import { commonVariance, projectStrips } from './band-projection.ts';
import type { Extent, StripProfiles, StripeFrame } from './band-projection.ts';
import type { StreakSignal } from './streak-signal.ts';

export type Channel = 'lightness' | 'chroma';

/** A direction in which something is drawn through the whole zone. */
export interface StripeDirection {
  readonly frame: StripeFrame;
  readonly channel: Channel;
  /** Half-width of the step filter that showed it, mm. */
  readonly reachMm: number;
  /** Common variance above the usual of all directions, in robust deviations of it. */
  readonly standout: number;
  readonly signal: StreakSignal;
}

export interface DirectionSearch {
  readonly extent: Extent;
  readonly strips: number;
  readonly count: number;
}

const DIRECTIONS = 90;
const BIN_MM = 1.2;
/** Step filters, bins: seams, narrow and wide bands. */
const REACHES = [2, 6, 12] as const;
/** Less than this can come from chance alone. Chosen on unstreaked test surfaces, where the largest of all is 3 to 5. */
const LEAST_STANDOUT = 4;
/** Directions this close, in steps, are one. */
const SAME_STEPS = 4;

export function stripeDirections(signals: readonly StreakSignal[], search: DirectionSearch): StripeDirection[] {
  const found = signals.flatMap((signal) => directionsOf(signal, search));
  found.sort((p, q) => q.standout - p.standout);
  const kept: typeof found = [];
  for (const next of found) {
    if (kept.length >= search.count || next.standout < LEAST_STANDOUT) break;
    const isNew = kept.every((other) => {
      const apart = Math.abs(other.step - next.step);
      return Math.min(apart, DIRECTIONS - apart) > SAME_STEPS;
    });
    if (isNew) kept.push(next);
  }
  return kept.map((direction) => refineFrame(direction, search));
}

type Found = StripeDirection & { readonly step: number };

function directionsOf(signal: StreakSignal, search: DirectionSearch): Found[] {
  const looks = (['lightness', 'chroma'] as const).flatMap((channel) =>
    REACHES.map((reach) => ({ channel, reach, variance: new Float64Array(DIRECTIONS) })),
  );
  for (let step = 0; step < DIRECTIONS; step++) {
    const profiles = project(signal, { angle: angleOf(step), bendPerMm: 0 }, search);
    for (const look of looks) look.variance[step] = commonVariance(profiles, look.channel, look.reach);
  }
  return looks.flatMap(({ channel, reach, variance }) =>
    standouts(variance).map(({ step, standout }) => ({
      step,
      standout,
      channel,
      reachMm: reach * BIN_MM,
      signal,
      frame: { angle: angleOf(step), bendPerMm: 0 },
    })),
  );
}

const angleOf = (step: number): number => (step * Math.PI) / DIRECTIONS;

const project = (signal: StreakSignal, frame: StripeFrame, search: DirectionSearch): StripProfiles =>
  projectStrips(signal, frame, search.extent, { strips: search.strips, binMm: BIN_MM });

function standouts(variance: Float64Array): { step: number; standout: number }[] {
  const usual = median(variance);
  const spread = Math.max(1.4826 * median(variance.map((v) => Math.abs(v - usual))), 1e-9);
  const peaks: { step: number; standout: number }[] = [];
  for (let step = 0; step < DIRECTIONS; step++) {
    const before = variance[(step + DIRECTIONS - 1) % DIRECTIONS];
    const after = variance[(step + 1) % DIRECTIONS];
    if (variance[step] >= before && variance[step] >= after) peaks.push({ step, standout: (variance[step] - usual) / spread });
  }
  return peaks;
}

export const median = (values: ArrayLike<number>): number => {
  const sorted = Float64Array.from(values).sort();
  return sorted.length === 0 ? 0 : sorted[sorted.length >> 1];
};

/** Bends tried, as radii in mm: stripes of a hand that swings about the elbow. */
const RADII_MM = [300, 450, 750, 1500] as const;
const DEGREE = Math.PI / 180;

/** Direction and bend that make the common variance largest, step by step. */
function refineFrame(direction: StripeDirection, search: DirectionSearch): StripeDirection {
  const reach = Math.round(direction.reachMm / BIN_MM);
  let best = direction.frame;
  let most = -Infinity;
  const tryFrame = (frame: StripeFrame): void => {
    const variance = commonVariance(project(direction.signal, frame, search), direction.channel, reach);
    if (variance > most) {
      most = variance;
      best = frame;
    }
  };
  const turn = (steps: readonly number[]): void => {
    const from = best;
    for (const degrees of steps) tryFrame({ ...from, angle: from.angle + degrees * DEGREE });
  };
  tryFrame(best);
  turn([-1, 1]);
  const { angle } = best;
  for (const radius of RADII_MM) for (const sign of [-1, 1]) tryFrame({ angle, bendPerMm: sign / radius });
  turn([-1.5, -1, -0.5, 0.5, 1, 1.5]);
  const bent = best;
  for (const change of [-1 / 3000, -1 / 6000, 1 / 6000, 1 / 3000]) tryFrame({ ...bent, bendPerMm: bent.bendPerMm + change });
  turn([-0.25, 0.25]);
  return { ...direction, frame: best };
}
