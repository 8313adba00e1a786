import { z } from 'zod';
import { adviceSchema } from '../advice.ts';
import { measuredSchema } from '../measured.ts';
import { settingsSchema } from '../settings.ts';
import { fractionSchema } from '../units.ts';
import { SCRAPE_TESTS } from './assessments.ts';
import { idSchema, momentSchema, ownId } from './identifiers.ts';
import { orNull } from './or-null.ts';
import { personRefSchema } from './people.ts';

const patchFields = {
  settings: settingsSchema,
  /** The machine that made it; null takes the zone's. */
  machineId: orNull(idSchema),
  scrapeTest: z.enum(SCRAPE_TESTS).nullable(),
  /** Straw to blue colours seen by a person. */
  heatTint: z.boolean().nullable(),
};

/** A small part of a zone that was treated by itself, to learn from: it is no round, and the zone stays as it was. */
export const zonePatchSchema = z
  .object({
    id: idSchema,
    zoneId: idSchema,
    /** Number of the zone's latest measured round by then; 0 on the untouched zone. */
    afterRound: z.int().min(0),
    ...patchFields,
    /** Share of the patch that is left. */
    residue: measuredSchema,
    how: z.enum(['photo', 'by eye']),
    /** Where its photo was measured; null for one judged by eye, or when that comparison was removed. */
    comparisonId: orNull(idSchema),
    /** The hand's real speed, where streaks in the photo told it. */
    travelSpeedMmPerS: measuredSchema.nullable(),
    createdAt: momentSchema,
    createdBy: orNull(personRefSchema),
  })
  .meta({ id: 'ZonePatch' });
export type ZonePatch = z.infer<typeof zonePatchSchema>;

export const newZonePatchSchema = z.object({
  ...ownId,
  settings: patchFields.settings,
  machineId: patchFields.machineId.default(null),
  scrapeTest: patchFields.scrapeTest.default(null),
  heatTint: patchFields.heatTint.default(null),
  outcome: z.discriminatedUnion('how', [
    /** The patch is the first one of a finished comparison of patches. */
    z.strictObject({ how: z.literal('photo'), comparisonId: idSchema }),
    z.strictObject({ how: z.literal('by eye'), residueFraction: fractionSchema }),
  ]),
});
export const zonePatchesSchema = z.object({ items: z.array(zonePatchSchema) });

/** What to do next on a zone by all that is known now: its measured rounds, its test patches, the machine's earlier zones. */
export const zoneAdviceSchema = z
  .object({
    /** Number of the zone's latest measured round; 0 before the first. */
    afterRound: z.int().min(0),
    machineId: orNull(idSchema),
    advice: adviceSchema.nullable(),
    /** A sentence where there is no advice, else null. */
    whyNone: z.string().nullable(),
  })
  .meta({ id: 'ZoneAdvice' });
export type ZoneAdvice = z.infer<typeof zoneAdviceSchema>;
