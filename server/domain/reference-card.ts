import { z } from 'zod';
import { finiteNumber } from './measured.ts';

/** CIE L*a*b* under D50 seen by the 2 degree observer, the print trade's measuring condition. Source: [ISO13655]. */
export const labD50Schema = z.object({ L: finiteNumber.min(0).max(100), a: finiteNumber, b: finiteNumber });
export type LabD50 = z.infer<typeof labD50Schema>;

const rectangleMm = z.object({
  x: finiteNumber,
  y: finiteNumber,
  width: finiteNumber.positive(),
  height: finiteNumber.positive(),
});

/** Which corner of the upright card a marker stands in. */
export const MARKER_CORNERS = ['topLeft', 'topRight', 'bottomRight', 'bottomLeft'] as const;
export type MarkerCorner = (typeof MARKER_CORNERS)[number];

export const PATCH_FAMILIES = ['neutral', 'iron oxide', 'stain', 'scale', 'steel', 'gamut'] as const;
export type PatchFamily = (typeof PATCH_FAMILIES)[number];

/** The printed reference card in its own frame (mm, origin top-left outer corner, x right, y down). */
export const referenceCardSchema = z.object({
  schema: z.literal('bareplate/reference-card@1'),
  edition: z.int().min(0),
  widthMm: finiteNumber.positive(),
  heightMm: finiteNumber.positive(),
  markers: z.array(
    z.object({
      corner: z.enum(MARKER_CORNERS),
      /** Outer (black) square of the marker. */
      area: rectangleMm,
      /** Modules along a side, frame included. */
      modules: z.int().positive(),
      /** Payload rows, top to bottom, "1" is white, as printed when the card is upright. */
      payload: z.array(z.string().regex(/^[01]+$/)),
    }),
  ),
  patches: z.array(
    z.object({
      id: z.string().min(1),
      family: z.enum(PATCH_FAMILIES),
      area: rectangleMm,
      nominal: z.object({ lab: labD50Schema, srgb8: z.tuple([z.int(), z.int(), z.int()]) }),
    }),
  ),
  /** Unprinted paper used as white: its value (100, 0, 0 while the patches' values are relative to the paper, as drawn), and areas that are sampled. */
  paper: z.object({ lab: labD50Schema, areas: z.array(rectangleMm) }),
});
export type ReferenceCard = z.infer<typeof referenceCardSchema>;
export type CardPatch = ReferenceCard['patches'][number];
export type CardMarker = ReferenceCard['markers'][number];
export type RectangleMm = z.infer<typeof rectangleMm>;
