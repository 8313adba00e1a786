import { z } from 'zod';
import type { ZodType } from 'zod';
import { positiveHertz, positiveMillimetres, positiveMillimetresPerSecond, positiveWatts } from './units.ts';

const limits = <T extends ZodType<number>>(quantity: T): z.ZodObject<{ min: T; max: T }> =>
  z.object({ min: quantity, max: quantity });

const DIALS = ['powerW', 'scanWidthMm', 'scanFrequencyHz', 'travelSpeedMmPerS'] as const;

/** A laser line machine: its dial limits and the optics that the kinematics need. */
export const machineSchema = z
  .object({
    powerW: limits(positiveWatts),
    scanWidthMm: limits(positiveMillimetres),
    scanFrequencyHz: limits(positiveHertz),
    travelSpeedMmPerS: limits(positiveMillimetresPerSecond),
    /** 2 when a hertz is a full to-and-fro cycle (two strokes), 1 when it is a single stroke. */
    strokesPerCycle: z.union([z.literal(1), z.literal(2)]),
    /** Diameter of the beam on the metal. */
    spotDiameterMm: positiveMillimetres,
    maxPasses: z.int().min(1).max(1000),
  })
  .superRefine((machine, context) => {
    for (const dial of DIALS) {
      if (machine[dial].min > machine[dial].max) {
        context.addIssue({ code: 'custom', path: [dial], message: 'expected min <= max' });
      }
    }
  });
export type Machine = z.infer<typeof machineSchema>;
