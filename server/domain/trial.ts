import { z } from 'zod';
import { earlierZoneSchema, roundSchema } from './advice.ts';
import { machineSchema } from './machine.ts';
import { finiteNumber, measuredSchema } from './measured.ts';
import { settingsSchema } from './settings.ts';
import { fractionSchema, minutesPerSquareMetreSchema, positiveMillimetres } from './units.ts';

/** Most patches of one trial: what one photo shows and one person keeps apart. */
export const MOST_TRIAL_PATCHES = 24;

export const trialRequestSchema = z.object({
  name: z.string().min(1).max(80).optional(),
  machine: machineSchema,
  surface: z.string().min(1).optional(),
  thicknessMm: positiveMillimetres.optional(),
  target: z.object({ residueFractionMax: fractionSchema }),
  /** The piece of the same steel that is given up to the trial. */
  coupon: z.object({
    widthMm: positiveMillimetres,
    heightMm: positiveMillimetres,
    marginMm: positiveMillimetres.optional(),
  }),
  patches: z.int().min(2).max(MOST_TRIAL_PATCHES).optional(),
  /** What has been seen on this surface so far, if anything. */
  rounds: z.array(roundSchema).optional(),
  earlierZones: z.array(earlierZoneSchema).optional(),
});
export type TrialRequest = z.infer<typeof trialRequestSchema>;

export const trialPatchSchema = z.object({
  /** Row letter and column number, from the top left. */
  name: z.string().regex(/^[A-Z]\d{1,2}$/),
  /** Upright rectangle on the coupon, from its top left corner; the hand travels down it. */
  leftMm: finiteNumber,
  topMm: finiteNumber,
  widthMm: positiveMillimetres,
  heightMm: positiveMillimetres,
  /** As dialled for the width of the patch. */
  settings: settingsSchema,
  /** When it is made: 1 is first. */
  runOrder: z.int().min(1),
  strokeFluenceJPerCm2: finiteNumber.min(0),
  arealEnergyJPerCm2: finiteNumber.min(0),
  predicted: measuredSchema,
});
export type TrialPatch = z.infer<typeof trialPatchSchema>;

export const trialPlanSchema = z.object({
  schema: z.literal('bareplate/trial-plan@1'),
  name: z.string().min(1),
  machine: machineSchema,
  surface: z.string().min(1).optional(),
  thicknessMm: positiveMillimetres.optional(),
  target: z.object({ residueFractionMax: fractionSchema }),
  coupon: z.object({ widthMm: positiveMillimetres, heightMm: positiveMillimetres, marginMm: positiveMillimetres }),
  /** Where the coupon's top left corner lies in the card frame when the card is laid as the sheet shows. */
  couponAtMm: z.tuple([finiteNumber, finiteNumber]),
  patches: z.array(trialPatchSchema).min(2).max(MOST_TRIAL_PATCHES),
  because: z.string().min(1),
  cautions: z.array(z.string().min(1)),
});
export type TrialPlan = z.infer<typeof trialPlanSchema>;

/** Residue of one patch as read from the photo. */
export const patchReadingSchema = z.object({ name: z.string().min(1), residue: measuredSchema });
export type PatchReading = z.infer<typeof patchReadingSchema>;

/** Residue to be expected over stroke fluence (rows) and areal energy (columns). */
export const responsePictureSchema = z.object({
  strokeFluenceJPerCm2: z.array(finiteNumber),
  arealEnergyJPerCm2: z.array(finiteNumber),
  residueFraction: z.array(z.array(fractionSchema)),
  probabilityMeetsTarget: z.array(z.array(fractionSchema)),
});
export type ResponsePicture = z.infer<typeof responsePictureSchema>;

export const trialResultSchema = z.object({
  schema: z.literal('bareplate/trial-result@1'),
  name: z.string().min(1),
  target: z.object({ residueFractionMax: fractionSchema }),
  patches: z.array(
    patchReadingSchema.extend({
      settings: settingsSchema,
      /** What the fitted model says of the same patch: far off means that something else was at work. */
      fitted: measuredSchema,
      isOdd: z.boolean(),
    }),
  ),
  /** The quickest setting of the whole machine that meets the target with the asked confidence; null when none does. */
  fastest: z
    .object({
      settings: settingsSchema,
      predicted: measuredSchema,
      probabilityMeetsTarget: fractionSchema,
      minutesPerSquareMetre: minutesPerSquareMetreSchema,
      /** Minutes per square metre of the quickest sufficient setting if one knew the surface exactly. */
      quickestPossible: measuredSchema,
    })
    .nullable(),
  response: responsePictureSchema,
  because: z.string().min(1),
});
export type TrialResult = z.infer<typeof trialResultSchema>;
