import { describe, expect, it } from 'vitest';
import { stripSignal } from '../../../../../server/measure/streaks/bands/find-lines.ts';
import type { StripSignal } from '../../../../../server/measure/streaks/bands/find-lines.ts';
import { straightenFrame } from '../../../../../server/measure/streaks/bands/straighten-frame.ts';
import { extentOf, stripProjector } from '../../../../../server/measure/streaks/bands/strip-profiles.ts';
import type { StripeFrame } from '../../../../../server/measure/streaks/bands/strip-profiles.ts';
import type { StreakSignal } from '../../../../../server/measure/streaks/surface/streak-signal.ts';
import { SIGNAL_STEP_MM, streakSignalOf } from '../../../../support/streak-signal-of.ts';

const SIDE = 240;
const DEGREE = Math.PI / 180;

/** Two dark bands along a frame, through the middle of a square of 120 mm. */
function banded({ angle, bendPerMm }: StripeFrame): StreakSignal {
  const half = (SIDE * SIGNAL_STEP_MM) / 2;
  return streakSignalOf(SIDE, SIDE, (px, py) => {
    const [x, y] = [px - half, py - half];
    const along = x * Math.cos(angle) + y * Math.sin(angle);
    const across = y * Math.cos(angle) - x * Math.sin(angle) - (bendPerMm / 2) * along * along;
    return Math.abs(across - 9) < 5 || Math.abs(across + 20) < 3 ? -4 : 0;
  });
}

function straightened(truth: StripeFrame, start: StripeFrame): StripeFrame {
  const signal = banded(truth);
  const project = stripProjector(signal, extentOf(signal), { strips: 8, binMm: 0.6 });
  const look = (frame: StripeFrame): StripSignal => stripSignal(project(frame), [-1, 0]);
  let frame = start;
  for (let round = 0; round < 2; round++) frame = straightenFrame(look(frame), frame);
  return frame;
}

describe('straightenFrame', () => {
  it.each([-3, 1.5, 4])('turns a frame that is %d degrees off to within a fifth of a degree', (off) => {
    const truth = { angle: 35 * DEGREE, bendPerMm: 0 };
    const { angle } = straightened(truth, { angle: (35 + off) * DEGREE, bendPerMm: 0 });
    expect(Math.abs(angle / DEGREE - 35)).toBeLessThan(0.2);
  });

  it('leaves a frame that lies right as it is', () => {
    const truth = { angle: 80 * DEGREE, bendPerMm: 0 };
    const { angle, bendPerMm } = straightened(truth, truth);
    expect(Math.abs(angle / DEGREE - 80)).toBeLessThan(0.05);
    expect(Math.abs(bendPerMm)).toBeLessThan(1 / 10_000);
  });

  it('straightens a bend that the surface does not have', () => {
    const truth = { angle: 10 * DEGREE, bendPerMm: 0 };
    const { angle, bendPerMm } = straightened(truth, { angle: 10 * DEGREE, bendPerMm: 1 / 600 });
    expect(Math.abs(bendPerMm)).toBeLessThan(1 / 2000);
    expect(Math.abs(angle / DEGREE - 10)).toBeLessThan(0.3);
  });

  it('leaves a frame as it is where no strip is like the others', () => {
    const frame = { angle: 0.3, bendPerMm: 0 };
    const bins = 60;
    const weight = Float64Array.from({ length: 5 * (bins + 1) }, (_, i) => i % (bins + 1));
    const flat = {
      strips: 5,
      bins,
      binMm: 0.6,
      stripMm: 20,
      startMm: -18,
      fullBin: 1,
      weight,
      value: weight.map(() => 0),
    };
    expect(straightenFrame(flat, frame)).toEqual(frame);
  });
});
