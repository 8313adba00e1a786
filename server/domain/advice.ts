import { z } from 'zod';
import { finiteNumber, measuredSchema } from './measured.ts';
import type { Measured } from './measured.ts';
import { machineSchema } from './machine.ts';
import { settingsSchema } from './settings.ts';
import { fraction, fractionSchema, minutesPerSquareMetreSchema, positiveMillimetres } from './units.ts';

export const LEVERS = ['more passes', 'lower frequency', 'narrower width', 'slower travel', 'combination'] as const;
export type Lever = (typeof LEVERS)[number];

export const ADVICE_VERDICTS = ['meets target', 'another round', 'change method', 'cannot tell'] as const;
export type AdviceVerdict = (typeof ADVICE_VERDICTS)[number];

export const suggestionSchema = z.object({
  lever: z.enum(LEVERS),
  settings: settingsSchema,
  /** Residue share expected after one more round at these settings. */
  predicted: measuredSchema,
  probabilityMeetsTarget: fractionSchema,
  minutesPerSquareMetre: minutesPerSquareMetreSchema,
  why: z.string().min(1),
  /** What would have to be seen for another choice to be better. */
  changesMind: z.string().min(1).optional(),
  cautions: z.array(z.string().min(1)),
});
export type Suggestion = z.infer<typeof suggestionSchema>;

/** A small patch to try first, when it teaches more than it costs. */
export const testPatchSchema = z.object({
  settings: settingsSchema,
  widthMm: positiveMillimetres,
  lengthMm: positiveMillimetres,
  minutes: finiteNumber.min(0),
  /** Minutes that knowing its outcome should save on the whole zone. */
  savesMinutes: finiteNumber.min(0),
  why: z.string().min(1),
});
export type TestPatch = z.infer<typeof testPatchSchema>;

export const adviceSchema = z.object({
  verdict: z.enum(ADVICE_VERDICTS),
  /** Best first: the first is what an operator should do next, from the surface as it is now. */
  suggestions: z.array(suggestionSchema),
  /** One sentence with the numbers behind the verdict, and another where the rounds contradict each other. */
  because: z.string().min(1).optional(),
  /** To be tried before the first suggestion; absent where the whole zone may as well be treated at once. */
  testPatch: testPatchSchema.optional(),
});
export type Advice = z.infer<typeof adviceSchema>;

/** A share as a photo shows it; without bounds the usual error is taken. */
const residueReading = z.object({
  residueFraction: fractionSchema,
  low: fractionSchema.optional(),
  high: fractionSchema.optional(),
});
export type ResidueReading = z.infer<typeof residueReading>;

const withinItsInterval = <Schema extends z.ZodType<ResidueReading>>(schema: Schema): Schema =>
  schema.refine(
    (a) => (a.low ?? 0) <= a.residueFraction && a.residueFraction <= (a.high ?? 1),
    'expected low <= residueFraction <= high',
  );

/** One treatment of the zone: how it was set, what was there before and after. */
export const roundSchema = z.object({
  settings: settingsSchema,
  before: z.object({ residueFraction: fractionSchema }),
  after: withinItsInterval(
    residueReading.extend({
      /** Of the worst 76 mm square, which a grade judges; without it the whole zone is judged. */
      worstSquare: withinItsInterval(residueReading).optional(),
    }),
  ),
  scrapeTest: z.enum(['clean', 'material came off']).optional(),
  heatTint: z.boolean().optional(),
  /** The hand's real speed, where streaks or a recording gave it; without it the hand is taken to err by 20 %. */
  measuredTravelSpeedMmPerS: measuredSchema.refine((speed) => speed.low > 0, 'expected a positive speed').optional(),
});
export type Round = z.infer<typeof roundSchema>;

/** What a photo measured, as a round states it. */
export const statedResidue = ({ value, low, high }: Measured): ResidueReading => ({
  residueFraction: fraction(value),
  low: fraction(low),
  high: fraction(high),
});

/** A small patch of the zone that was treated by itself, to learn from. */
export const triedPatchSchema = roundSchema.extend({
  /** Rounds that the zone had had by then; 0 where the patch was made on the untouched zone. */
  afterRounds: z.number().int().min(0).default(0),
});
export type TriedPatch = z.infer<typeof triedPatchSchema>;

/** A zone that this machine has treated before: what it was, and its rounds. */
export const earlierZoneSchema = z.object({
  /** Surface in words; zones of another kind than the one asked about teach nothing about it. */
  surface: z.string().min(1).optional(),
  rounds: z.array(roundSchema).min(1),
  areaM2: finiteNumber.gt(0).optional(),
  /** All the working time of these rounds, beam on or off; with the area it tells how much of it the beam is on. */
  workMinutes: finiteNumber.gt(0).optional(),
});
export type EarlierZone = z.infer<typeof earlierZoneSchema>;

/** Consecutive treatments of the SAME zone, oldest first; `rounds` may be empty. */
export const historySchema = z.object({
  machine: machineSchema,
  surface: z.string().min(1).optional(),
  thicknessMm: positiveMillimetres.optional(),
  target: z.object({ residueFractionMax: fractionSchema }),
  rounds: z.array(roundSchema),
  /** Patches of this zone that were tried, oldest first: they teach, and leave the zone as it is. */
  testPatches: z.array(triedPatchSchema).optional(),
  /** Earlier zones of the shop on the same machine, oldest first; those of the same kind of surface are learned from. */
  earlierZones: z.array(earlierZoneSchema).optional(),
  /** Size of the zone: without it a square metre is taken, when a test patch is weighed. */
  areaM2: finiteNumber.gt(0).optional(),
});
export type History = z.infer<typeof historySchema>;
