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
    /** At the centre of the zone: side of the square of surface that has the area of one pixel. */
    mmPerPixel: finiteNumber.positive().nullable(),
    /** Standard deviation of that scale as a share of it; grows with the distance from the card. */
    mmPerPixelRelativeSigma: nonNegative.optional(),
    /** Angle between the camera's axis and the normal of the surface. */
    tiltDegrees: finiteNumber.min(0).max(90).nullable(),
    /** Width over which a sharp edge is smeared at the zone (focus, shake, file), full width at half maximum. */
    blurMm: nonNegative.optional(),
    colourErrorDeltaE00: colourErrorSchema.nullable(),
    /** The same patches read as plain sRGB, before any correction. */
    colourErrorUntreatedDeltaE00: colourErrorSchema.nullable().optional(),
    /** Which map cross-validation chose. */
    colourCorrection: z.enum(['none', 'balance', 'linear', 'root-polynomial']).optional(),
    patchesLeftOut: z.array(z.object({ id: z.string(), why: z.string() })).optional(),
    edition: z.int().optional(),
    markersRead: z.int().optional(),
  }),
});
export type Photo = z.infer<typeof photoSchema>;
