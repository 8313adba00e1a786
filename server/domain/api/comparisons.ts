import { z } from 'zod';
import { comparisonSchema } from '../comparison.ts';
import { finiteNumber } from '../measured.ts';
import { settingsSchema } from '../settings.ts';
import { streaksSchema } from '../streaks.ts';
import { surfaceSchema } from '../surface.ts';
import { MOST_TRIAL_PATCHES } from '../trial.ts';
import { progressSchema } from './assessments.ts';
import { idSchema, momentSchema, nameSchema, ownId } from './identifiers.ts';
import { pageOf, pageQuery } from './paging.ts';
import { personRefSchema } from './people.ts';
import { outlineSchema } from './photos.ts';
import { orNull } from './or-null.ts';

/** One side of a comparison: the after surface of an assessment, or a patch of a photo. */
export const comparedSideSchema = z
  .object({
    /** The name the pairs speak of. */
    name: z.string(),
    assessmentId: orNull(idSchema),
    photoId: idSchema,
    outline: orNull(outlineSchema),
    mmPerPixel: finiteNumber.positive().nullable(),
    settings: settingsSchema.nullable(),
    minutesPerSquareMetre: finiteNumber.min(0).nullable(),
    /** Null until measured. */
    surface: surfaceSchema.nullable(),
    streaks: streaksSchema.nullable(),
  })
  .meta({ id: 'ComparedSide' });
export type ComparedSide = z.infer<typeof comparedSideSchema>;

export const shopComparisonSchema = z
  .object({
    id: idSchema,
    title: z.string(),
    progress: progressSchema,
    sides: z.array(comparedSideSchema),
    /** Every two sides; empty until measured. */
    pairs: comparisonSchema.shape.pairs,
    warnings: comparisonSchema.shape.warnings,
    createdAt: momentSchema,
    createdBy: orNull(personRefSchema),
  })
  .meta({ id: 'ShopComparison' });
export type ShopComparison = z.infer<typeof shopComparisonSchema>;

const patchSchema = z.object({
  name: nameSchema,
  outline: outlineSchema,
  settings: settingsSchema.nullable().default(null),
});

/** Two to six assessments, or patches of one photo: as many as a trial has, or a test patch alone. */
export const newComparisonSchema = z.object({
  ...ownId,
  title: nameSchema,
  of: z.discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('assessments'), assessmentIds: z.array(idSchema).min(2).max(6) }),
    z.strictObject({
      kind: z.literal('patches'),
      photoId: idSchema,
      patches: z.array(patchSchema).min(1).max(MOST_TRIAL_PATCHES),
    }),
  ]),
});
export type NewComparison = z.infer<typeof newComparisonSchema>;
export const comparisonsQuerySchema = pageQuery(['createdAt', 'title'], '-createdAt');
export const comparisonsPageSchema = pageOf(shopComparisonSchema.omit({ sides: true, pairs: true, warnings: true }));
