import { z } from 'zod';
import { finiteNumber } from './measured.ts';

/** Codes of a picture at which its curves are given, evenly from black to white. */
export const CURVE_POINTS = 33;

const curveSchema = z.array(finiteNumber.min(0).max(1)).length(CURVE_POINTS);

/**
 * What shows a photo of a surface in true colour, as the reference card in it tells: a curve for each channel from encoded
 * sRGB to encoded sRGB, straight between its points, then a matrix between linear sRGB values. Light that falls off across
 * the surface is taken out for the middle of the zone alone.
 */
export const pictureLightSchema = z
  .object({
    curves: z.object({ red: curveSchema, green: curveSchema, blue: curveSchema }),
    /** Row-major 3 x 3. */
    matrix: z.array(finiteNumber).length(9),
  })
  .meta({ id: 'PictureLight' });
export type PictureLight = z.infer<typeof pictureLightSchema>;
