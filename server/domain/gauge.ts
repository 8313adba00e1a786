import { z } from 'zod';
import { finiteNumber } from './measured.ts';

/** Who measured which zone, how often, and what came out. Every operator measures every zone equally often. */
export const gaugeStudySchema = z.object({
  schema: z.literal('bareplate/gauge-study@1'),
  /** Name with its unit, e.g. "residueFraction". */
  quantity: z.string().min(1),
  /** Width between the limits of a specification, in the quantity's unit; null where there is none. */
  toleranceWidth: finiteNumber.positive().nullable(),
  measurements: z
    .array(z.object({ operator: z.string().min(1), zone: z.string().min(1), value: finiteNumber }))
    .min(8)
    .max(10_000),
});
export type GaugeStudy = z.infer<typeof gaugeStudySchema>;

export const GAUGE_QUANTITIES = [
  'residueFraction',
  'stainFraction',
  'worstSquareResidueFraction',
  'textureContrastDeltaE00',
] as const;
export type GaugeQuantity = (typeof GAUGE_QUANTITIES)[number];

/** The same study by its photos, which are measured for it. */
export const gaugePhotosSchema = z.strictObject({
  schema: z.literal('bareplate/gauge-photos@1'),
  quantity: z.enum(GAUGE_QUANTITIES).default('residueFraction'),
  toleranceWidth: finiteNumber.positive().nullable().default(null),
  photos: z
    .array(
      z.strictObject({
        operator: z.string().min(1),
        zone: z.string().min(1),
        /** File, from the folder of the study. */
        photo: z.string().min(1),
        /** Where the zone lies in this photo, as on the command line; all but the card without it. */
        outline: z.string().min(1).optional(),
      }),
    )
    .min(8)
    .max(500),
});
export type GaugePhotos = z.infer<typeof gaugePhotosSchema>;

const varianceRow = z.object({
  degreesOfFreedom: z.int().min(0),
  sumOfSquares: finiteNumber.min(0),
  meanSquare: finiteNumber.min(0),
  /** Null where the row is not tested. */
  f: finiteNumber.min(0).nullable(),
  /** Chance of so large an F if the source had no effect. */
  p: finiteNumber.min(0).max(1).nullable(),
});
export type VarianceRow = z.infer<typeof varianceRow>;

const spread = z.object({
  standardDeviation: finiteNumber.min(0),
  /** Part of the total standard deviation, 0..1. Parts add up in squares, not in sum. */
  partOfTotal: finiteNumber.min(0).max(1),
  /** Six standard deviations as a part of the tolerance's width; null without a tolerance. */
  partOfTolerance: finiteNumber.min(0).nullable(),
});
export type Spread = z.infer<typeof spread>;

const GAUGE_VERDICTS = ['good', 'usable for some purposes', 'not good enough'] as const;

export const gaugeResultSchema = z.object({
  schema: z.literal('bareplate/gauge-result@1'),
  quantity: z.string(),
  operators: z.int(),
  zones: z.int(),
  repeats: z.int(),
  variance: z.object({
    zones: varianceRow,
    operators: varianceRow,
    interaction: varianceRow,
    repeatability: varianceRow,
    total: varianceRow,
  }),
  /** Whether the interaction was too small to be kept and went into the repeatability. */
  isInteractionPooled: z.boolean(),
  spread: z.object({
    repeatability: spread,
    reproducibility: spread,
    operators: spread,
    interaction: spread,
    gauge: spread,
    zones: spread,
    total: spread,
  }),
  /** How many kinds of zone the gauge can tell apart; null when it shows no spread at all. */
  distinctCategories: z.int().min(0).nullable(),
  verdict: z.enum(GAUGE_VERDICTS).nullable(),
  remarks: z.array(z.string().min(1)),
});
export type GaugeResult = z.infer<typeof gaugeResultSchema>;
