import { z } from 'zod';
import { positiveHertz, positiveMillimetres, positiveMillimetresPerSecond, positiveWatts } from './units.ts';

/** What the operator sets on the machine and does with the hand. Keys end in the unit: a number without one is refused. */
export const settingsSchema = z.object({
  powerW: positiveWatts,
  /** Width of the line the mirror sweeps. */
  scanWidthMm: positiveMillimetres,
  /** As shown on the machine; the machine's `strokesPerCycle` says whether it counts strokes or full cycles. */
  scanFrequencyHz: positiveHertz,
  /** Intended speed of the hand, square to the line. */
  travelSpeedMmPerS: positiveMillimetresPerSecond,
  passes: z.int().min(1).max(1000),
});
export type Settings = z.infer<typeof settingsSchema>;
