import { z } from 'zod';
import { finiteNumber } from './measured.ts';

const nonNegative = finiteNumber.min(0);

/** CIEDE2000 of patches that took no part in the fit. */
export const colourErrorSchema = z.object({ median: nonNegative, p95: nonNegative, max: nonNegative });
export type ColourError = z.infer<typeof colourErrorSchema>;

export const photoSchema = z.object({
  /** Size of the upright photo, after the EXIF orientation. */
  widthPx: z.int().positive(),
  heightPx: z.int().positive(),
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
  card: z.object({
    found: z.boolean(),
    /** At the centre of the zone, the mean of the two principal scales. */
    mmPerPixel: finiteNumber.positive().nullable(),
    /** Angle between the camera's axis and the normal of the surface. */
    tiltDegrees: finiteNumber.min(0).max(90).nullable(),
    colourErrorDeltaE00: colourErrorSchema.nullable(),
  }),
});
export type Photo = z.infer<typeof photoSchema>;
