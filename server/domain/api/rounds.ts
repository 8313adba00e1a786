import { z } from 'zod';
import { finiteNumber } from '../measured.ts';
import { settingsSchema } from '../settings.ts';
import { assessmentSummarySchema, SCRAPE_TESTS } from './assessments.ts';
import { idSchema, momentSchema, noteSchema, ownId } from './identifiers.ts';
import { pageOf, pageQuery } from './paging.ts';
import { personRefSchema } from './people.ts';
import { roundPhotoSchema } from './photos.ts';
import { orNull } from './or-null.ts';

const roundFields = {
  /** Null while nobody has stated them. */
  settings: settingsSchema.nullable(),
  machineId: orNull(idSchema),
  /** The printed card in view, for its measured values; null takes the shop's usual card. */
  cardId: orNull(idSchema),
  /** What a knife or scraper told; a photo cannot. */
  scrapeTest: z.enum(SCRAPE_TESTS).nullable(),
  /** Straw to blue colours seen by a person. */
  heatTint: z.boolean().nullable(),
  minutesSpent: finiteNumber.min(0).max(100_000).nullable(),
  note: noteSchema,
};

/** One treatment of one zone with its before and after. */
export const zoneRoundSchema = z
  .object({
    id: idSchema,
    zoneId: idSchema,
    jobId: idSchema,
    /** 1 for the first round of the zone. */
    number: z.int().min(1),
    ...roundFields,
    note: z.string(),
    before: orNull(roundPhotoSchema),
    after: orNull(roundPhotoSchema),
    latest: orNull(assessmentSummarySchema),
    createdAt: momentSchema,
    createdBy: orNull(personRefSchema),
    updatedAt: momentSchema,
  })
  .meta({ id: 'ZoneRound' });
export type ZoneRound = z.infer<typeof zoneRoundSchema>;

export const newRoundSchema = z.object({
  ...ownId,
  settings: roundFields.settings.default(null),
  machineId: roundFields.machineId.default(null),
  cardId: roundFields.cardId.default(null),
  scrapeTest: roundFields.scrapeTest.default(null),
  heatTint: roundFields.heatTint.default(null),
  minutesSpent: roundFields.minutesSpent.default(null),
  note: roundFields.note.default(''),
});
export const roundChangeSchema = z.object(roundFields).partial();

export const roundsQuerySchema = pageQuery(['number', 'createdAt'], 'number').omit({ q: true });
export const roundsPageSchema = pageOf(zoneRoundSchema);
