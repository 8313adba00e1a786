import { z } from 'zod';
import { SURFACE_KIND_WORDS } from '../surface-kind-words.ts';
import { finiteNumber } from '../measured.ts';
import { MOST_TRIAL_PATCHES, trialPlanSchema, trialResultSchema } from '../trial.ts';
import { quoteRequestSchema } from '../quote.ts';
import { fractionSchema, positiveMillimetres } from '../units.ts';
import { idSchema, momentSchema, nameSchema, ownId } from './identifiers.ts';
import { pageOf, pageQuery } from './paging.ts';
import { personRefSchema } from './people.ts';
import { orNull } from './or-null.ts';

/** A trial of the shop: its plan, and what its photo showed once it was read. */
export const shopTrialSchema = z
  .object({
    id: idSchema,
    name: z.string(),
    machineId: idSchema,
    plan: trialPlanSchema,
    /** The comparison of patches that it was read from. */
    comparisonId: orNull(idSchema),
    result: trialResultSchema.nullable(),
    createdAt: momentSchema,
    createdBy: orNull(personRefSchema),
    updatedAt: momentSchema,
  })
  .meta({ id: 'ShopTrial' });
export type ShopTrial = z.infer<typeof shopTrialSchema>;

const side = positiveMillimetres;
export const newTrialSchema = z.object({
  ...ownId,
  name: nameSchema,
  machineId: idSchema,
  surface: z.string().trim().max(120).default(''),
  thicknessMm: side.nullable().default(null),
  residueFractionMax: fractionSchema.default(0.05 as never),
  couponWidthMm: side,
  couponHeightMm: side,
  patches: z.int().min(2).max(MOST_TRIAL_PATCHES).default(8),
});
export const trialsQuerySchema = pageQuery(['createdAt', 'name'], '-createdAt');
export const trialsPageSchema = pageOf(
  shopTrialSchema.pick({ id: true, name: true, machineId: true, createdAt: true }).extend({ isRead: z.boolean() }),
);
export const trialSheetQuerySchema = z.object({ paper: z.enum(['a4', 'letter']).default('a4') });
export const trialReadingSchema = z.object({ comparisonId: idSchema });

/** What the shop's zones have taught about one kind of surface on one machine, beside common practice. */
export const learnedKindSchema = z
  .object({
    machineId: idSchema,
    machineName: z.string(),
    kind: z.enum(SURFACE_KIND_WORDS),
    zones: z.int().min(0),
    rounds: z.int().min(0),
    /** Stroke fluence at which half of the surface gives way, J/cm2, and the factor within which it is known. */
    thresholdJPerCm2: finiteNumber,
    thresholdWithinFactor: finiteNumber,
    usualThresholdJPerCm2: finiteNumber,
    /** Areal energy that thins what gives way to a third, J/cm2, and the factor within which it is known. */
    energyJPerCm2: finiteNumber,
    energyWithinFactor: finiteNumber,
    usualEnergyJPerCm2: finiteNumber,
    forgottenAt: orNull(momentSchema),
  })
  .meta({ id: 'LearnedKind' });
export type LearnedKind = z.infer<typeof learnedKindSchema>;
/** A quote may name the shop's machine, to start from what its zones have taught. */
export const newQuoteSchema = quoteRequestSchema
  .omit({ earlierZones: true })
  .extend({ machineId: idSchema.optional() });
export const learnedSchema = z.object({ items: z.array(learnedKindSchema) });
export const forgetSchema = z.object({ machineId: idSchema, kind: z.enum(SURFACE_KIND_WORDS) });
