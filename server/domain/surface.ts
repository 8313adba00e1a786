import { z } from 'zod';
import { finiteNumber, measuredSchema } from './measured.ts';
import { fractionSchema } from './units.ts';

/** What a spot of the surface is. `stain` is a tint without body; residue is rust + scale + coating. */
export const SURFACE_CLASSES = ['bare', 'stain', 'rust', 'scale', 'coating'] as const;
export type SurfaceClass = (typeof SURFACE_CLASSES)[number];
export const RESIDUE_CLASSES = ['rust', 'scale', 'coating'] as const satisfies readonly SurfaceClass[];

/** Codes of the class map written by `segment`: 0 is not measured, then the classes in their order. */
export const NOT_MEASURED_CODE = 0;
export const CLASS_CODE = { bare: 1, stain: 2, rust: 3, scale: 4, coating: 5 } as const satisfies Record<
  SurfaceClass,
  number
>;

/** Side of the unit area that blast-cleaning standards judge. Source: [SP10] (76 mm x 76 mm). */
export const UNIT_AREA_SIDE_MM = 76;

export const worstUnitAreaSchema = z.object({
  sideMm: z.literal(UNIT_AREA_SIDE_MM),
  residueFraction: fractionSchema,
  stainFraction: fractionSchema,
  centreMm: z.tuple([finiteNumber, finiteNumber]),
  /** Turn of its sides in the card frame, from +x towards +y; it lies along the measuring grid. */
  turnDegrees: finiteNumber.optional(),
});
export type WorstUnitArea = z.infer<typeof worstUnitAreaSchema>;

export const appearanceSchema = z.object({
  /** Mean CIE L* of the bare part, light-normalised; null when none is bare. */
  lightness: measuredSchema.nullable(),
  /** Rms CIEDE2000 in the 0.5-5 mm band of the bare part; null when it cannot be measured. */
  textureContrast: measuredSchema.nullable(),
  /** Share of the measured part with straw-to-blue interference colours: a caution, never a temperature. */
  heatTintFraction: fractionSchema,
});
export type Appearance = z.infer<typeof appearanceSchema>;

export const surfaceSchema = z.object({
  fractions: z.object({
    bare: measuredSchema,
    stain: measuredSchema,
    rust: measuredSchema,
    scale: measuredSchema,
    coating: measuredSchema,
  }),
  /** rust + scale + coating */
  residue: measuredSchema,
  appearance: appearanceSchema,
  /** Glare, clipping, deep shadow, blur: the shares above are of the measured part. */
  unmeasuredFraction: fractionSchema,
  /** Share of the measured part that two segmenters read differently; absent where only one spoke. */
  doubtfulFraction: fractionSchema.optional(),
  worstUnitArea: worstUnitAreaSchema.nullable(),
});
export type Surface = z.infer<typeof surfaceSchema>;
