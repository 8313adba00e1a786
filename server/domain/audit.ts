import { z } from 'zod';
import { instantSchema } from './instant.ts';
import { recordPersonSchema } from './record-person.ts';
import { sha256Schema } from './record-round.ts';

/** What was done, in the words of the log. Every act that changes or hands out evidence is among them. */
export const AUDIT_ACTS = [
  'signed in',
  'signed out',
  'was refused',
  'created',
  'changed',
  'removed',
  'corrected',
  'marked ready',
  'withdrew',
  'accepted',
  'rejected',
  'superseded',
  'exported',
  'backed up',
  'restored',
] as const;

/** One row before it is chained. `details` is plain JSON; numbers carry units in their keys. */
const auditEventSchema = z.object({
  at: instantSchema,
  by: recordPersonSchema.nullable(),
  act: z.enum(AUDIT_ACTS),
  /** What it was done to, as "kind:id". */
  subject: z.string().regex(/^[a-z][a-z-]*:.+$/),
  details: z.record(z.string(), z.json()),
});
export type AuditEvent = z.infer<typeof auditEventSchema>;

/** One row of the append-only log: its hash covers the row and the hash of the row before. */
export const auditEntrySchema = auditEventSchema.extend({
  sequence: z.int().min(1),
  previousHash: sha256Schema,
  hash: sha256Schema,
});
export type AuditEntry = z.infer<typeof auditEntrySchema>;

export const SEALED_HEAD_SCHEMA = 'bareplate/audit-head@1';

/** The head of the log as it is kept apart from it, signed with the installation's key. */
export const sealedHeadSchema = z.strictObject({
  schema: z.literal(SEALED_HEAD_SCHEMA),
  head: z.strictObject({ sequence: z.int().min(1), hash: sha256Schema }),
  publicKeyPem: z.string().min(1),
  /** Ed25519 over the canonical JSON of schema and head, 64 bytes in hexadecimal. */
  signature: z.string().regex(/^[0-9a-f]{128}$/),
});
