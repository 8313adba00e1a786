import { measured } from '../../domain/index.ts';
import type { Measured } from '../../domain/index.ts';
import type { Lattice } from './bands/fit-lattice.ts';
import type { PeriodicWave } from './waves/periodic-wave.ts';
import type { WaveVector } from './waves/stripe-blocks.ts';

/** Half-widths of 95 % intervals in standard errors: the normal value, widened because strays are few and not quite independent. */
const WIDENING = 2.6;
/** Errors of scale and rectification that no repeat shows, share of the pitch. */
const LEAST_SHARE = 0.008;

/**
 * Pitch of even stripes with its interval: the slope of a line through n phases that stray by s cycles over a length L has
 * the error s sqrt(12 / n) / L cycles per mm. Source: ordinary least squares with even spacing.
 */
export function wavePitch({ pitchMm, phase, blocks }: PeriodicWave): Measured {
  const columns = Math.max(2, blocks.acrossCount);
  const length = columns * blocks.acrossMm;
  const error = (phase.residualCycles * Math.sqrt(12 / columns)) / length;
  return around(pitchMm, error * pitchMm * pitchMm);
}

/**
 * Spacing of the strokes of a zigzag, with the mean of its families' shares of error.
 * @param strokes their wave vector
 * @param families those that were followed
 */
export function zigzagPitch(strokes: WaveVector, families: readonly PeriodicWave[]): Measured {
  const value = 1 / Math.hypot(strokes.kx, strokes.ky);
  const shares = families.map((family) => wavePitch(family).high / family.pitchMm - 1);
  const half = (value * shares.reduce((sum, share) => sum + share, 0)) / shares.length;
  return measured(value, value - half, value + half);
}

/** Lines that a guided hand sets stray from even places by about this share of their spacing (common practice). */
const USUAL_STRAY = 0.04;
/** What is usual counts like this many more lines: two show one distance and no scatter. */
const USUAL_COUNT = 4;

/**
 * Spacing of n single lines: the slope of a straight line through them, with a scatter s that is drawn towards the usual one.
 * Its error is s over the root of the sum of squares of the ranks, s sqrt(12 / (n (n^2 - 1))) where none is missing. Source:
 * ordinary least squares; a prior that counts like so many lines.
 */
export function latticePitch({ spacing, unevenness, count, squares }: Lattice): Measured {
  const rest = count * (unevenness * spacing) ** 2;
  const usual = USUAL_COUNT * (USUAL_STRAY * spacing) ** 2;
  const scatter = Math.sqrt((rest + usual) / (count - 2 + USUAL_COUNT));
  return around(spacing, scatter / Math.sqrt(squares));
}

function around(value: number, standardError: number): Measured {
  const half = WIDENING * standardError + LEAST_SHARE * value;
  return measured(value, value - half, value + half);
}
