import { z } from 'zod';
import { earlierZoneSchema } from './advice.ts';
import { machineSchema } from './machine.ts';
import { finiteNumber, measuredSchema } from './measured.ts';
import { fractionSchema, positiveMillimetres } from './units.ts';

export const quoteRequestSchema = z.object({
  areaM2: finiteNumber.gt(0).max(1e6),
  surface: z.string().min(1).optional(),
  machine: machineSchema,
  thicknessMm: positiveMillimetres.optional(),
  target: z.object({ residueFractionMax: fractionSchema }),
  hourlyRate: finiteNumber.min(0).max(1e6),
  /** Three letters of ISO 4217, printed beside the cost. */
  currency: z
    .string()
    .regex(/^[A-Z]{3}$/)
    .optional(),
  /**
   * Share of the working time in which the beam is on; the rest is moving, photographing, checking. Left out, it is what
   * the earlier zones show that state their area and their working time, else what is usual.
   */
  beamShare: fractionSchema.refine((share) => share > 0, 'expected a share above 0').optional(),
  /** Hours that are due whatever the area: rigging, screens, extraction. */
  setUpHours: finiteNumber.min(0).max(1000).optional(),
  earlierZones: z.array(earlierZoneSchema).optional(),
});
export type QuoteRequest = z.infer<typeof quoteRequestSchema>;

const spanSchema = z.object({ low: finiteNumber, high: finiteNumber });

export const quoteSchema = z.object({
  schema: z.literal('bareplate/quote@1'),
  areaM2: finiteNumber.gt(0),
  surfaceKind: z.string().min(1),
  target: z.object({ residueFractionMax: fractionSchema }),
  /** Beam time for a square metre, all rounds. */
  minutesPerSquareMetre: measuredSchema,
  hours: measuredSchema,
  cost: measuredSchema,
  /** Half of such jobs should lie within these. */
  likely: z.object({ hours: spanSchema, cost: spanSchema, coverage: z.literal(0.5) }),
  currency: z.string().optional(),
  /** Chance that this machine reaches the target at all; the range holds for that case. */
  probabilityReachable: fractionSchema,
  /** Earlier zones of this kind that it rests on. */
  zones: z.int().min(0),
  because: z.string().min(1),
  /** What makes the range as wide as it is, and what would narrow it. */
  rangeBecause: z.string().min(1),
  assumptions: z.array(z.string().min(1)),
});
export type Quote = z.infer<typeof quoteSchema>;
