import { z } from 'zod';
import { gradeSchema } from '../grade.ts';
import { finiteNumber, measuredSchema } from '../measured.ts';
import { SURFACE_CLASSES, worstUnitAreaSchema } from '../surface.ts';
import { fractionSchema } from '../units.ts';
import { idSchema, momentSchema } from './identifiers.ts';
import { personRefSchema } from './people.ts';
import { PHOTO_ROLES } from './photos.ts';
import { orNull } from './or-null.ts';

/** Pixels of the class map, broken values allowed. */
const mapPoint = z.tuple([finiteNumber.min(-10_000).max(100_000), finiteNumber.min(-10_000).max(100_000)]);
const paintSchema = z.enum([...SURFACE_CLASSES, 'not measured']);

/** One stroke of a person's hand on the class map. Nothing outside the zone is ever painted. */
export const paintMarkSchema = z
  .discriminatedUnion('kind', [
    z.strictObject({
      kind: z.literal('brush'),
      paint: paintSchema,
      radiusPx: finiteNumber.positive().max(2000),
      points: z.array(mapPoint).min(1).max(2000),
    }),
    z.strictObject({ kind: z.literal('polygon'), paint: paintSchema, points: z.array(mapPoint).min(3).max(500) }),
    /** Takes all pixels of the same class that hang together with this one. */
    z.strictObject({ kind: z.literal('fill'), paint: paintSchema, at: mapPoint }),
  ])
  .meta({ id: 'PaintMark' });
export type PaintMark = z.infer<typeof paintMarkSchema>;
export type Paint = z.infer<typeof paintSchema>;

/** What the corrected map comes to by the same rules as the measured one. */
const decidedAnewSchema = z.object({
  /** The measured interval, moved with the share and narrowed by the part that people painted. */
  residue: measuredSchema,
  stain: measuredSchema,
  /** Share of the zone that people spoke for: painted over, with another class or with the one it had. */
  paintedFraction: fractionSchema,
  /** Null where no unit area fits, or where the photo has no scale. */
  worstUnitArea: worstUnitAreaSchema.nullable(),
  /** Of the after photo only. */
  grades: z.array(gradeSchema),
});
export type DecidedAnew = z.infer<typeof decidedAnewSchema>;

/** Shares of a class map after people corrected it: what was counted has no interval, what is decided on it has. */
export const correctedSurfaceSchema = z
  .object({
    fractions: z.object({
      bare: fractionSchema,
      stain: fractionSchema,
      rust: fractionSchema,
      scale: fractionSchema,
      coating: fractionSchema,
    }),
    residue: fractionSchema,
    unmeasuredFraction: fractionSchema,
    /** Share of the zone whose class was changed. */
    changedFraction: fractionSchema,
    /** Null in what earlier versions kept: they did not decide anew. */
    decided: decidedAnewSchema.nullable().default(null),
  })
  .meta({ id: 'CorrectedSurface' });
export type CorrectedSurface = z.infer<typeof correctedSurfaceSchema>;

export const correctionSchema = z
  .object({
    id: idSchema,
    assessmentId: idSchema,
    map: z.enum(PHOTO_ROLES),
    marks: z.array(paintMarkSchema),
    /** Whether who made it agreed that it may teach the segmenter, with the photo inside the zone. */
    mayTrain: z.boolean(),
    reason: z.string(),
    madeAt: momentSchema,
    madeBy: orNull(personRefSchema),
    /** A correction that was taken back stays on record. */
    withdrawnAt: orNull(momentSchema),
    withdrawnBy: orNull(personRefSchema),
  })
  .meta({ id: 'Correction' });
export type Correction = z.infer<typeof correctionSchema>;

export const newCorrectionSchema = z.object({
  id: idSchema.optional(),
  map: z.enum(PHOTO_ROLES).default('after'),
  marks: z.array(paintMarkSchema).min(1).max(200),
  mayTrain: z.boolean().default(false),
  reason: z.string().trim().max(500).default(''),
});

/** All corrections of an assessment, oldest first, and what they come to. */
export const correctionsSchema = z
  .object({
    items: z.array(correctionSchema),
    corrected: z.object({ before: orNull(correctedSurfaceSchema), after: orNull(correctedSurfaceSchema) }),
  })
  .meta({ id: 'Corrections' });
export type Corrections = z.infer<typeof correctionsSchema>;

/** Marks that are only tried: the shares they would give, nothing kept. */
export const correctionTrialSchema = newCorrectionSchema.pick({ map: true, marks: true });

export const classMapQuerySchema = z.object({ corrected: z.enum(['yes', 'no']).default('yes') });
export const classMapParamsSchema = z.object({ assessmentId: idSchema, map: z.enum(PHOTO_ROLES) });
