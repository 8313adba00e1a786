import { z } from 'zod';
import { AUDIT_ACTS, auditEntrySchema } from '../audit.ts';
import { orNull } from './or-null.ts';
import { pageOf, pageQuery } from './paging.ts';

/** What is searched for may stand anywhere in a row: a person, an id, a reason. */
export const auditQuerySchema = pageQuery(['sequence'], '-sequence').extend({
  act: z.enum(AUDIT_ACTS).optional(),
  subject: z.string().max(200).optional(),
});

/** What a row tells of, by today's names: job and zone, or the thing's own name. */
const auditSubjectSchema = z
  .object({ names: z.array(z.string()), round: orNull(z.int()) })
  .meta({ id: 'AuditSubject' });
export type AuditSubject = z.infer<typeof auditSubjectSchema>;

/** A row as it is kept, with the number that lists go by; the names are no part of what is hashed. */
const auditRowSchema = auditEntrySchema
  .extend({ id: z.string(), details: z.record(z.string(), z.unknown()), about: orNull(auditSubjectSchema) })
  .meta({ id: 'AuditRow' });
export const auditPageSchema = pageOf(auditRowSchema);

/** What checking the chain of hashes found. */
export const auditCheckSchema = z
  .object({
    rows: z.int().min(0),
    holds: z.boolean(),
    head: z.object({ sequence: z.int().min(0), hash: z.string() }),
    flaws: z.array(z.object({ sequence: z.int(), detail: z.string() })),
  })
  .meta({ id: 'AuditCheck' });
export type AuditCheckResult = z.infer<typeof auditCheckSchema>;
