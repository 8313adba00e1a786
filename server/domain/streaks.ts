import { z } from 'zod';
import { finiteNumber, measuredSchema } from './measured.ts';
import { fractionSchema } from './units.ts';

/**
 * line-pitch: periodic stripes one stroke spacing apart (the hand outran the mirror);
 * swath-seam: dark seams where neighbouring swaths do not meet, about one scan width apart;
 * dwell-band: irregular bands where the hand sped up.
 */
export const STREAK_KINDS = ['line-pitch', 'swath-seam', 'dwell-band'] as const;
export type StreakKind = (typeof STREAK_KINDS)[number];

export const streaksSchema = z.object({
  found: z.boolean(),
  kind: z.enum(STREAK_KINDS).nullable(),
  pitchMm: measuredSchema.nullable(),
  /** Direction the stripes run in the card frame, from +x towards +y, in [0, 180). */
  directionDegrees: finiteNumber.min(0).lt(180).nullable(),
  /** CIEDE2000 between the streaks and the ground beside them. */
  contrastDeltaE00: finiteNumber.min(0),
  affectedFraction: fractionSchema,
  /** The hand's real travel speed: pitch times strokes per second. Needs settings. */
  travelSpeedMmPerS: measuredSchema.nullable(),
  /** What was found or why nothing is called a streak, and its cause, in a sentence or two. */
  because: z.string().min(1).optional(),
});
export type Streaks = z.infer<typeof streaksSchema>;
