import { centreOf, distance, mapPoint } from '../../viewer/plane-geometry.ts';
import type { PictureFrame } from '../../viewer/picture-frame.ts';

/** Diameters that the brush can have: millimetres, or pixels of the class map where there are no millimetres. */
export const BRUSH = { least: 2, most: 80, step: 2, first: 16 } as const;

/**
 * Pixels of the class map in one unit of the brush: how a millimetre looks in the middle of the zone.
 *
 * @param photoPxPerPixel of the class map
 */
export function mapPxPerBrushUnit({ toMm, zonePx, widthPx, heightPx }: PictureFrame, photoPxPerPixel: number): number {
  if (toMm === null) return 1;
  const middle = zonePx === null ? ([widthPx / 2, heightPx / 2] as const) : centreOf(zonePx);
  const here = mapPoint(toMm, middle);
  const beside = mapPoint(toMm, [middle[0] + photoPxPerPixel, middle[1]]);
  return here === null || beside === null ? 1 : 1 / distance(here, beside);
}
