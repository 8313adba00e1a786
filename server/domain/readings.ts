import { z } from 'zod';
import { calendarDaySchema, instantSchema } from './instant.ts';
import { finiteNumber } from './measured.ts';
import { recordPersonSchema } from './record-person.ts';
import { fractionSchema } from './units.ts';

/**
 * Exactly what was typed, with its unit, by the field of the value: only where it was not the record's own unit, and the
 * value is the exact conversion of it.
 */
const typedSchema = z.record(z.string().max(40), z.string().min(1).max(2000));
export type Typed = z.infer<typeof typedSchema>;

/** What a photo cannot know: a person read it or saw it and typed it in. The source is part of the entry, so it is never lost. */
const entered = <T extends z.ZodType>(
  value: T,
): z.ZodObject<{
  source: z.ZodLiteral<'entered by a person'>;
  by: typeof recordPersonSchema;
  at: typeof instantSchema;
  value: T;
  typed: z.ZodOptional<typeof typedSchema>;
}> =>
  z.object({
    source: z.literal('entered by a person'),
    by: recordPersonSchema,
    at: instantSchema,
    value,
    typed: typedSchema.optional(),
  });

const scrapeTestSchema = z.object({ result: z.enum(['clean', 'material came off']), where: z.string().min(1) });

/** Words of the surface profile comparators. Source: [ISO8503-2]. */
const PROFILE_WORDS = ['finer than fine', 'fine', 'medium', 'coarse', 'coarser than coarse'] as const;

const surfaceProfileSchema = z.discriminatedUnion('method', [
  z.object({
    method: z.literal('comparator'),
    comparator: z.enum(['grit', 'shot']),
    word: z.enum(PROFILE_WORDS),
  }),
  z.object({
    method: z.enum(['stylus', 'replica tape']),
    readingsUm: z.array(finiteNumber.positive().max(1000)).min(1).max(200),
  }),
]);
export type SurfaceProfile = z.infer<typeof surfaceProfileSchema>;

/** Pressure-sensitive tape test: both numbers are ratings by eye. Source: [ISO8502-3], from memory. */
const dustSchema = z.object({ quantityRating: z.int().min(0).max(5), sizeClass: z.int().min(0).max(5) });

/** Extraction with a patch, then conductivity. Source: [ISO8502-6] and [ISO8502-9]. */
const solubleSaltsSchema = z.object({
  /** Conductivity of the extract less that of the water before, at 25 C. */
  conductivityRiseUsPerCm: finiteNumber.min(0).max(100_000),
  waterVolumeMl: finiteNumber.positive().max(1000),
  patchAreaMm2: finiteNumber.positive().max(1_000_000),
});
export type SolubleSalts = z.infer<typeof solubleSaltsSchema>;

/** Range in which the Magnus formula holds, C. Source: [WMO8]. */
export const MAGNUS_RANGE_C = { least: -45, most: 60 } as const;

const climateSchema = z.object({
  airTemperatureC: finiteNumber.min(MAGNUS_RANGE_C.least).max(MAGNUS_RANGE_C.most),
  surfaceTemperatureC: finiteNumber.min(-60).max(500),
  /** 0..1; a reading of 0 cannot occur in air and has no dew point. */
  relativeHumidity: fractionSchema.refine((share) => share >= 0.01, 'expected at least 0.01'),
  /** What the instruments' papers state, half widths with 95 % coverage. */
  uncertainty: z
    .object({
      airTemperatureC: finiteNumber.min(0).max(10),
      surfaceTemperatureC: finiteNumber.min(0).max(10),
      relativeHumidity: finiteNumber.min(0).max(0.2),
    })
    .nullable(),
});
export type Climate = z.infer<typeof climateSchema>;

const FLASH_RUST_WORDS = ['none', 'light', 'moderate', 'heavy'] as const;

const instrumentSchema = z.object({
  kind: z.string().min(1),
  serialNumber: z.string().min(1),
  calibratedOn: calendarDaySchema.nullable(),
  usedFor: z.string().min(1),
});

/** What can be entered, by its name in the readings; the value alone, as it is typed. */
export const READING_VALUES = {
  scrapeTest: scrapeTestSchema,
  surfaceProfile: surfaceProfileSchema,
  dust: dustSchema,
  solubleSalts: solubleSaltsSchema,
  climate: climateSchema,
  timeSinceCleaning: z.object({ minutes: finiteNumber.min(0), flashRust: z.enum(FLASH_RUST_WORDS) }),
} as const;
/** Groups of readings that may be typed in US customary units. */
export const CONVERTIBLE_GROUPS = ['climate', 'surfaceProfile', 'solubleSalts'] as const;
export const typedReadingsSchema = z.partialRecord(z.enum(CONVERTIBLE_GROUPS), typedSchema);
export type TypedReadings = z.infer<typeof typedReadingsSchema>;

export const INSTRUMENT_VALUE = instrumentSchema;
export const REMARK_VALUE = z.object({ text: z.string().min(1) });

/** Readings on the steel and in the air, each with who entered it and when; null where nobody did. */
export const readingsSchema = z.object({
  scrapeTest: entered(READING_VALUES.scrapeTest).nullable(),
  surfaceProfile: entered(READING_VALUES.surfaceProfile).nullable(),
  dust: entered(READING_VALUES.dust).nullable(),
  solubleSalts: entered(READING_VALUES.solubleSalts).nullable(),
  climate: entered(READING_VALUES.climate).nullable(),
  timeSinceCleaning: entered(READING_VALUES.timeSinceCleaning).nullable(),
  instruments: z.array(entered(INSTRUMENT_VALUE)),
  remarks: z.array(entered(REMARK_VALUE)),
});
export type Readings = z.infer<typeof readingsSchema>;

export const NO_READINGS: Readings = {
  scrapeTest: null,
  surfaceProfile: null,
  dust: null,
  solubleSalts: null,
  climate: null,
  timeSinceCleaning: null,
  instruments: [],
  remarks: [],
};
