import { z } from 'zod';
import { idSchema, momentSchema, nameSchema, noteSchema, ownId } from './identifiers.ts';
import { pageOf, pageQuery, putAwayFilter } from './paging.ts';
import { personRefSchema } from './people.ts';
import { orNull } from './or-null.ts';

/** Customer work: a vessel, a bridge, a batch of plates. */
export const jobSchema = z
  .object({
    id: idSchema,
    name: z.string(),
    customer: z.string(),
    note: z.string(),
    /** Made up to try the program with; no real surface. */
    isInvented: z.boolean(),
    isPutAway: z.boolean(),
    zoneCount: z.int(),
    /** Zones whose latest assessment meets their target. */
    zonesMeetingTarget: z.int(),
    createdAt: momentSchema,
    createdBy: orNull(personRefSchema),
    /** Last change of the job, a zone, a round or an assessment. */
    lastActivityAt: momentSchema,
  })
  .meta({ id: 'Job' });
export type Job = z.infer<typeof jobSchema>;

const jobFields = { name: nameSchema, customer: z.string().trim().max(120), note: noteSchema };
export const newJobSchema = z.object({
  ...ownId,
  name: jobFields.name,
  customer: jobFields.customer.default(''),
  note: jobFields.note.default(''),
});
export const jobChangeSchema = z.object({ ...jobFields, isPutAway: z.boolean() }).partial();

export const jobsQuerySchema = pageQuery(['lastActivityAt', 'name', 'createdAt'], '-lastActivityAt').extend({
  putAway: putAwayFilter,
});
export const jobsPageSchema = pageOf(jobSchema);
