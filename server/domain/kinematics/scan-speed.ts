import type { Machine } from '../machine.ts';
import type { Settings } from '../settings.ts';
import { millimetresPerSecond, type MillimetresPerSecond } from '../units.ts';
import { strokesPerSecond } from './strokes-per-second.ts';

type Sweep = Pick<Settings, 'scanWidthMm' | 'scanFrequencyHz'>;

/**
 * Speed of the spot along the line for a triangular sweep: width (mm) times strokes per second, 2 W f for cycles.
 * Holds where the mirror turns in no time and the hand is much slower than the mirror. Source: arithmetic.
 */
export const scanSpeed = (settings: Sweep, machine: Pick<Machine, 'strokesPerCycle'>): MillimetresPerSecond =>
  millimetresPerSecond(settings.scanWidthMm * strokesPerSecond(settings, machine));

/**
 * Speed of the spot at a distance from the middle of the line when the mirror swings sinusoidally:
 * (pi / 2) times the triangular speed times sqrt(1 - (2 x / W)^2); pi/2 too fast in the middle, at rest at the ends.
 * `offsetMm` from -W/2 to W/2. Source: arithmetic.
 *
 * @throws RangeError when the point lies off the line
 */
export function sinusoidalScanSpeed(
  settings: Sweep,
  machine: Pick<Machine, 'strokesPerCycle'>,
  offsetMm: number,
): MillimetresPerSecond {
  const relative = (2 * offsetMm) / settings.scanWidthMm;
  if (!(Math.abs(relative) <= 1)) {
    throw new RangeError(
      `Expected a point within ${settings.scanWidthMm / 2} mm of the middle but received ${offsetMm}`,
    );
  }
  return millimetresPerSecond((Math.PI / 2) * scanSpeed(settings, machine) * Math.sqrt(1 - relative ** 2));
}
