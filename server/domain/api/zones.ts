import { z } from 'zod';
import { finiteNumber } from '../measured.ts';
import { positiveMillimetres } from '../units.ts';
import { assessmentSummarySchema } from './assessments.ts';
import { idSchema, momentSchema, nameSchema, noteSchema, ownId } from './identifiers.ts';
import { pageOf, pageQuery, putAwayFilter } from './paging.ts';
import { personRefSchema } from './people.ts';
import { orNull } from './or-null.ts';

/** Where the work on a zone stands, told by its latest assessment that is done. */
export const ZONE_STANDINGS = [
  'not started',
  'in work',
  'meets target',
  'another round',
  'change method',
  'cannot tell',
] as const;
export const zoneStandingSchema = z.enum(ZONE_STANDINGS);
export type ZoneStanding = (typeof ZONE_STANDINGS)[number];

/** Code on the printed label: 8 characters of Crockford's base 32, no I L O U. */
export const labelCodeSchema = z.string().regex(/^[0-9A-HJKMNP-TV-Z]{8}$/);

const squareMetres = finiteNumber.positive().max(1e6);

export const jobZoneSchema = z
  .object({
    id: idSchema,
    jobId: idSchema,
    jobName: z.string(),
    name: z.string(),
    note: z.string(),
    /** In words, e.g. "heavy pitted rust"; empty when not stated. */
    surfaceKind: z.string(),
    thicknessMm: positiveMillimetres.nullable(),
    areaM2: squareMetres.nullable(),
    /** A grade's name such as "Sa 2 1/2"; null when the zone has no target. */
    targetGrade: z.string().nullable(),
    /** The machine that usually works here. */
    machineId: orNull(idSchema),
    labelCode: labelCodeSchema,
    isInvented: z.boolean(),
    isPutAway: z.boolean(),
    standing: zoneStandingSchema,
    roundCount: z.int(),
    /** Minutes spent in all rounds that say so; null when none does. */
    minutesSpent: finiteNumber.min(0).nullable(),
    latest: orNull(assessmentSummarySchema),
    createdAt: momentSchema,
    createdBy: orNull(personRefSchema),
    lastActivityAt: momentSchema,
  })
  .meta({ id: 'JobZone' });
export type JobZone = z.infer<typeof jobZoneSchema>;

const zoneFields = {
  name: nameSchema,
  note: noteSchema,
  surfaceKind: z.string().trim().max(80),
  thicknessMm: positiveMillimetres.nullable(),
  areaM2: squareMetres.nullable(),
  targetGrade: z.string().trim().min(1).max(60).nullable(),
  machineId: orNull(idSchema),
};
export const newZoneSchema = z.object({
  ...ownId,
  name: zoneFields.name,
  note: zoneFields.note.default(''),
  surfaceKind: zoneFields.surfaceKind.default(''),
  thicknessMm: zoneFields.thicknessMm.default(null),
  areaM2: zoneFields.areaM2.default(null),
  targetGrade: zoneFields.targetGrade.default(null),
  machineId: zoneFields.machineId.default(null),
});
export const zoneChangeSchema = z.object({ ...zoneFields, isPutAway: z.boolean() }).partial();

export const zonesQuerySchema = pageQuery(['lastActivityAt', 'name', 'createdAt'], '-lastActivityAt').extend({
  jobId: idSchema.optional(),
  standing: zoneStandingSchema.optional(),
  putAway: putAwayFilter,
});
export const zonesPageSchema = pageOf(jobZoneSchema);

export const labelParamsSchema = z.object({ labelCode: z.string().trim().toUpperCase().pipe(labelCodeSchema) });
