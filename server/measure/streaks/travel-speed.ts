import { measured } from '../../domain/index.ts';
import type { Measured, Settings } from '../../domain/index.ts';

type Sweep = Pick<Settings, 'scanFrequencyHz'>;

/**
 * Spacing of strokes along the travel: travel speed over strokes per second, p = v / (f n), mm.
 * Holds for a steady hand. Source: arithmetic; n = 2 strokes to a cycle of a to-and-fro sweep.
 */
export const expectedPitchMm = (
  settings: Sweep & Pick<Settings, 'travelSpeedMmPerS'>,
  strokesPerCycle: 1 | 2,
): number => settings.travelSpeedMmPerS / (settings.scanFrequencyHz * strokesPerCycle);

/**
 * The hand's real travel speed, mm/s, from the pitch of the lines it left: v = p f n, the inverse of {@link expectedPitchMm}.
 * The interval is the pitch's alone: the frequency is taken as set. Source: arithmetic.
 *
 * @param pitchMm spacing of strokes, mm
 */
export function travelSpeedFromPitch(pitchMm: Measured, settings: Sweep, strokesPerCycle: 1 | 2): Measured {
  const strokesPerSecond = settings.scanFrequencyHz * strokesPerCycle;
  return measured(pitchMm.value * strokesPerSecond, pitchMm.low * strokesPerSecond, pitchMm.high * strokesPerSecond);
}
