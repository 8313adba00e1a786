import type { Machine } from '@domain/machine.ts';
import type { Settings } from '@domain/settings.ts';

/** What a swept line leaves on the steel in one pass. */
export interface LineOnSteel {
  readonly strokesPerSecond: number;
  /** Mean distance between neighbouring strokes along the travel. */
  readonly pitchMm: number;
  /** Shared part of neighbouring strokes in the middle of the line; 0 where they do not meet. */
  readonly overlap: number;
  /** Strip between strokes that the spot misses in the middle of the line; 0 where they overlap. */
  readonly gapMm: number;
  /** Widest distance between neighbouring strokes: at the ends of the zig-zag. */
  readonly widestPitchMm: number;
  readonly minutesPerSquareMetre: number;
}

const SQUARE_MILLIMETRES_PER_SQUARE_METRE = 1e6;
const SECONDS_PER_MINUTE = 60;

/**
 * Travel speed over strokes per second is the pitch; a zig-zag's gaps at its ends are 0 and twice the pitch in turn; beam
 * time for an area is area times passes over width times speed. Settings are positive. Source: arithmetic.
 */
export function lineOnSteel(
  { scanFrequencyHz, travelSpeedMmPerS, scanWidthMm, passes }: Omit<Settings, 'powerW'>,
  { strokesPerCycle, spotDiameterMm }: Pick<Machine, 'strokesPerCycle' | 'spotDiameterMm'>,
): LineOnSteel {
  const strokesPerSecond = scanFrequencyHz * strokesPerCycle;
  const pitchMm = travelSpeedMmPerS / strokesPerSecond;
  const squareMillimetresPerMinute = scanWidthMm * travelSpeedMmPerS * SECONDS_PER_MINUTE;
  return {
    strokesPerSecond,
    pitchMm,
    overlap: Math.max(0, 1 - pitchMm / spotDiameterMm),
    gapMm: Math.max(0, pitchMm - spotDiameterMm),
    widestPitchMm: 2 * pitchMm,
    minutesPerSquareMetre: (SQUARE_MILLIMETRES_PER_SQUARE_METRE * passes) / squareMillimetresPerMinute,
  };
}
