import type { StreakSignal } from '../surface/streak-signal.ts';
import type { ColourMix } from './colour-mix.ts';
import { stripSignal } from './find-lines.ts';
import type { StripSignal } from './find-lines.ts';
import { stripProjector } from './strip-profiles.ts';
import type { Extent, StripeFrame } from './strip-profiles.ts';

/** A signal laid across the stripes of one frame after the other, in one strip as long as the zone. */
export interface SignalAcross {
  readonly profileOf: (frame: StripeFrame) => StripSignal;
  /** Share of the signal's variance that its profile across explains, 0..1: 1 where stripes are all there is. */
  readonly explainedBy: (frame: StripeFrame) => number;
  /** Usable area, mm2. */
  readonly areaMm2: number;
}

/** A signal and how to look at it. */
export interface SignalLook {
  readonly signal: StreakSignal;
  readonly extent: Extent;
  readonly mix: ColourMix['mix'];
  readonly binMm: number;
}

/** Source: the correlation ratio, eta squared. */
export function signalAcross({ signal, extent, mix, binMm }: SignalLook): SignalAcross {
  const project = stripProjector(signal, extent, { strips: 1, binMm });
  const profileOf = (frame: StripeFrame): StripSignal => stripSignal(project(frame), mix);
  const { squares, total } = spreadOf(signal, mix);
  return {
    profileOf,
    explainedBy: (frame) => Math.min(1, explainedSquares(profileOf(frame)) / Math.max(squares, 1e-9)),
    areaMm2: total * signal.stepMm ** 2,
  };
}

/** Weighted sum of squares of a profile about its mean. */
function explainedSquares({ bins, value, weight }: StripSignal): number {
  let sum = 0;
  for (let t = 0; t < bins; t++) {
    const [v, w] = [value[t + 1] - value[t], weight[t + 1] - weight[t]];
    if (w > 0) sum += (v * v) / w;
  }
  return sum - value[bins] ** 2 / weight[bins];
}

/** Weighted sum of squares of the cells about their mean, and of their weights. */
function spreadOf(
  { lightness, chroma, weight }: StreakSignal,
  mix: ColourMix['mix'],
): { squares: number; total: number } {
  let [sum, squares, total] = [0, 0, 0];
  for (let i = 0; i < weight.length; i++) {
    const value = mix[0] * lightness[i] + mix[1] * chroma[i];
    sum += weight[i] * value;
    squares += weight[i] * value * value;
    total += weight[i];
  }
  return { squares: total > 0 ? squares - (sum * sum) / total : 0, total };
}
