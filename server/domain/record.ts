import { z } from 'zod';
import { instantSchema } from './instant.ts';
import { finiteNumber } from './measured.ts';
import { machineSchema } from './machine.ts';
import { readingsSchema } from './readings.ts';
import { recordPersonSchema } from './record-person.ts';
import { evidenceFileSchema, recordRoundSchema, sha256Schema } from './record-round.ts';
import { fractionSchema } from './units.ts';

export const RECORD_SCHEMA = 'bareplate/record@3';

/** A record is written as draft, offered as ready, signed as accepted or rejected; a later signed record may take its place. */
export const RECORD_STATES = ['draft', 'ready', 'accepted', 'rejected', 'superseded'] as const;
export type RecordState = (typeof RECORD_STATES)[number];

const recordIdSchema = z.string().regex(/^record-[a-z0-9]+(?:-[a-z0-9]+)*$/);

/** Head of the audit log at the moment of signing: ties the record to everything that was logged before. */
export const auditHeadSchema = z.object({ sequence: z.int().min(0), hash: sha256Schema });
export type AuditHead = z.infer<typeof auditHeadSchema>;

export const decisionSchema = z
  .object({
    verdict: z.enum(['accepted', 'rejected']),
    /** In the signer's own words; required to reject. */
    reason: z.string().min(1).nullable(),
    signer: recordPersonSchema,
    signedAt: instantSchema,
    /** How the signer was known. */
    confirmedBy: z.literal('password entered again'),
    isTwoPersonRuleOn: z.boolean(),
    auditHead: auditHeadSchema.nullable(),
  })
  .refine((d) => d.verdict === 'accepted' || d.reason !== null, 'expected a reason for a rejection');
export type Decision = z.infer<typeof decisionSchema>;

/** A correction that a person painted on a class map. */
const correctionSchema = z.object({
  round: z.int().positive(),
  photo: z.enum(['before', 'after']),
  by: recordPersonSchema,
  at: instantSchema,
  what: z.string().min(1),
  areaMm2: finiteNumber.min(0).nullable(),
  /** A correction that was taken back stays on record. */
  withdrawn: z.object({ by: recordPersonSchema, at: instantSchema }).nullable(),
});

const recordFields = z.object({
  schema: z.literal(RECORD_SCHEMA),
  id: recordIdSchema,
  /** The signed record that this one takes the place of. */
  supersedes: z.object({ id: recordIdSchema, sha256: sha256Schema }).nullable(),
  /** True for demonstrations and fixtures: nothing in it happened. */
  isInvented: z.boolean(),
  shop: z.object({ name: z.string().min(1) }),
  job: z.object({ name: z.string().min(1), place: z.string().min(1) }),
  zone: z.object({ name: z.string().min(1), about: z.string().min(1) }),
  asked: z.object({
    standard: z.string().min(1),
    grade: z.string().min(1),
    residueFractionMax: fractionSchema.nullable(),
    area: z.string().min(1),
  }),
  machine: z.object({ name: z.string().min(1), serialNumber: z.string().min(1).nullable(), limits: machineSchema }),
  card: z.object({
    edition: z.int().min(0),
    /** Whether the patch values were measured on this very card or are the design values. */
    values: z.enum(['measured', 'design values']),
    file: evidenceFileSchema,
  }),
  rounds: z.array(recordRoundSchema).min(1).max(1000),
  corrections: z.array(correctionSchema),
  readings: readingsSchema,
  versions: z.object({ program: z.string().min(1), segmenter: z.string().min(1) }),
  prepared: z.object({ by: recordPersonSchema, at: instantSchema }).nullable(),
  /** Null until signed. */
  decision: decisionSchema.nullable(),
});

/** The inspection record of one zone. Everything that a reader in ten years needs, and what a person entered marked so. */
export const inspectionRecordSchema = recordFields.superRefine((record, context) => {
  record.rounds.forEach((round, index) => {
    if (round.number !== index + 1) {
      context.addIssue({ code: 'custom', path: ['rounds', index, 'number'], message: `expected ${index + 1}` });
    }
  });
  if (record.decision !== null && record.prepared === null) {
    context.addIssue({ code: 'custom', path: ['prepared'], message: 'expected who prepared a signed record' });
  }
});
export type InspectionRecord = z.infer<typeof inspectionRecordSchema>;

/** The mark that makes a record fast: a signature over the canonical record's bytes. */
export const sealSchema = z.object({
  algorithm: z.literal('Ed25519'),
  /** SHA-256 of the canonical record. */
  recordSha256: sha256Schema,
  /** First 16 bytes of the SHA-256 of the public key's DER form, in hexadecimal. */
  keyFingerprint: z.string().regex(/^[0-9a-f]{32}$/),
  publicKeyPem: z.string().min(1),
  /** 64 bytes in hexadecimal. */
  signature: z.string().regex(/^[0-9a-f]{128}$/),
});
export type Seal = z.infer<typeof sealSchema>;
