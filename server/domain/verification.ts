import { z } from 'zod';
import { auditHeadSchema } from './record.ts';

const PROBLEM_CODES = [
  'archive-damaged',
  'file-altered',
  'file-missing',
  'file-not-listed',
  'manifest-altered',
  'manifest-signature-wrong',
  'record-unreadable',
  'record-not-canonical',
  'record-signature-wrong',
  'record-not-signed',
  'record-names-another-file',
  'report-names-another-record',
  'key-unreadable',
  'key-not-trusted',
  'time-stamp-wrong',
] as const;

/** One thing that does not hold: which file or part of the archive, and what is wrong with it. */
const problemSchema = z.object({ code: z.enum(PROBLEM_CODES), path: z.string(), message: z.string().min(1) });
export type Problem = z.infer<typeof problemSchema>;

/** What checking a bundle found. `holds` is true only if every hash, signature and byte of the archive is as it was. */
export const verificationSchema = z.object({
  schema: z.literal('bareplate/verification@1'),
  holds: z.boolean(),
  problems: z.array(problemSchema),
  files: z.array(z.object({ path: z.string(), sizeBytes: z.int().min(0), sha256: z.string(), holds: z.boolean() })),
  record: z
    .object({
      id: z.string(),
      sha256: z.string(),
      verdict: z.string(),
      signerName: z.string(),
      signerRole: z.string(),
      signedAt: z.string(),
      isInvented: z.boolean(),
      /** Head of the shop's audit log when it was signed: what `check --against` holds a data folder to. */
      auditHead: auditHeadSchema.nullable(),
    })
    .nullable(),
  key: z.object({ fingerprint: z.string(), isKnown: z.boolean() }).nullable(),
  timeStamp: z.object({ at: z.string(), authority: z.string(), isAuthorityTrusted: z.boolean() }).nullable(),
  remarks: z.array(z.string()),
});
export type Verification = z.infer<typeof verificationSchema>;
