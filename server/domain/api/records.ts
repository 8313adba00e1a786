import { z } from 'zod';
import { GRADE_DECISIONS } from '../grade.ts';
import { finiteNumber, measuredSchema } from '../measured.ts';
import { INSTRUMENT_VALUE, READING_VALUES, REMARK_VALUE, readingsSchema, typedReadingsSchema } from '../readings.ts';
import { decisionSchema, RECORD_STATES } from '../record.ts';
import { recordPersonSchema } from '../record-person.ts';
import { settingsSchema } from '../settings.ts';
import { typedThatDiffer } from '../typed-readings.ts';
import { fractionSchema } from '../units.ts';
import { verificationSchema } from '../verification.ts';
import { idSchema, momentSchema, ownId } from './identifiers.ts';
import { orNull } from './or-null.ts';
import { pageOf, pageQuery } from './paging.ts';
import { personRefSchema } from './people.ts';
import { photoRoleSchema } from './photos.ts';

const stateSchema = z.enum(RECORD_STATES);

/** What lists show of a record. */
const recordSummarySchema = z
  .object({
    id: idSchema,
    zoneId: idSchema,
    zoneName: z.string(),
    jobId: idSchema,
    jobName: z.string(),
    isInvented: z.boolean(),
    state: stateSchema,
    createdAt: momentSchema,
    createdBy: orNull(personRefSchema),
    /** When it was signed. */
    signedAt: orNull(momentSchema),
    signerName: z.string().nullable(),
  })
  .meta({ id: 'RecordSummary' });
export type RecordSummary = z.infer<typeof recordSummarySchema>;

/** One round as the record states it. */
const contentRoundSchema = z.object({
  number: z.int(),
  treatedAt: z.string(),
  settings: settingsSchema,
  minutes: finiteNumber.min(0).nullable(),
  note: z.string().nullable(),
  hasBefore: z.boolean(),
  residueBefore: measuredSchema.nullable(),
  residueAfter: measuredSchema,
  stainAfter: measuredSchema,
  /** After the corrections that stand; null without any. */
  correctedResidueAfter: fractionSchema.nullable(),
});

const decidedGradeSchema = z.object({ decision: z.enum(GRADE_DECISIONS), because: z.string() });

/** What the record holds besides the readings, in short. */
const recordContentSchema = z
  .object({
    asked: z.object({ standard: z.string(), grade: z.string(), area: z.string() }),
    /** How the last round compares with what was asked; null where the grade is not among those compared. */
    grade: decidedGradeSchema.nullable(),
    /** The same decided anew on the map as people corrected it; null without corrections. */
    correctedGrade: decidedGradeSchema.nullable(),
    rounds: z.array(contentRoundSchema),
    /** When the photos of the last round were taken and received, by whose clock, in words. */
    photoTimes: z.object({ before: orNull(z.array(z.string())), after: z.array(z.string()) }),
    machineName: z.string(),
    cardValues: z.enum(['measured', 'design values']),
    colourErrorMedianDeltaE00: finiteNumber.min(0).nullable(),
    correctionCount: z.int().min(0),
    fileCount: z.int().min(0),
    warnings: z.array(z.string()),
  })
  .meta({ id: 'RecordContent' });
export type RecordContent = z.infer<typeof recordContentSchema>;

/** Computed from the readings, never entered. */
const computedReadingsSchema = z.object({
  dewPoint: z
    .object({
      dewPointC: finiteNumber,
      marginC: finiteNumber,
      marginUncertaintyC: finiteNumber.min(0).nullable(),
      decision: z.enum(GRADE_DECISIONS),
    })
    .nullable(),
  saltDensityMgPerM2: finiteNumber.min(0).nullable(),
});

export const zoneRecordSchema = recordSummarySchema
  .extend({
    readings: readingsSchema,
    computed: computedReadingsSchema,
    /** Null for a draft that cannot be put together yet. */
    content: orNull(recordContentSchema),
    /** Why a draft cannot be marked ready; empty when it can. */
    obstacles: z.array(z.string()),
    prepared: z.object({ by: recordPersonSchema, at: z.string() }).nullable(),
    decision: decisionSchema.nullable(),
    /** The signed record that this one takes the place of, or is to take. */
    supersedesId: orNull(idSchema),
    supersededById: orNull(idSchema),
    seal: z.object({ recordSha256: z.string(), keyFingerprint: z.string() }).nullable(),
    hasTimeStamp: z.boolean(),
    isTwoPersonRuleOn: z.boolean(),
  })
  .meta({ id: 'ZoneRecord' });
export type ZoneRecord = z.infer<typeof zoneRecordSchema>;

export const newRecordSchema = z.object(ownId);

const MOST_INSTRUMENTS = 30;
const MOST_REMARKS = 50;
const MOST_REMARK_CHARACTERS = 4000;

/** Values as typed; who and when is added here. What is left out stays, null takes an entry back. */
export const readingEntrySchema = z
  .object({
    scrapeTest: READING_VALUES.scrapeTest.nullable(),
    surfaceProfile: READING_VALUES.surfaceProfile.nullable(),
    dust: READING_VALUES.dust.nullable(),
    solubleSalts: READING_VALUES.solubleSalts.nullable(),
    climate: READING_VALUES.climate.nullable(),
    timeSinceCleaning: READING_VALUES.timeSinceCleaning.nullable(),
    instruments: z.array(INSTRUMENT_VALUE).max(MOST_INSTRUMENTS),
    remarks: z
      .array(REMARK_VALUE.extend({ text: z.string().trim().min(1).max(MOST_REMARK_CHARACTERS) }))
      .max(MOST_REMARKS),
    /** What was typed in other units than these, word for word. */
    typed: typedReadingsSchema,
  })
  .partial()
  .superRefine((entry, context) => {
    for (const { group, field } of typedThatDiffer(entry)) {
      const message = 'expected the value to be the exact conversion of what was typed';
      context.addIssue({ code: 'custom', path: ['typed', group, field], message });
    }
  });
export type ReadingEntry = z.infer<typeof readingEntrySchema>;

/** Signing asks for the password again. */
export const signatureBodySchema = z.object({
  verdict: z.enum(['accepted', 'rejected']),
  reason: z.string().trim().max(2000).default(''),
  password: z.string().max(200),
});

export const recordsQuerySchema = pageQuery(['createdAt', 'updatedAt', 'zoneName'], '-createdAt').extend({
  zoneId: idSchema.optional(),
  state: stateSchema.optional(),
});
export const recordsPageSchema = pageOf(recordSummarySchema);

/** Paper and units; what the shop uses unless said otherwise. */
export const recordLookSchema = z
  .object({ paper: z.enum(['a4', 'letter']), units: z.enum(['metric', 'inch']) })
  .partial();

const roundNumber = z
  .string()
  .regex(/^\d{1,4}$/, 'expected a whole number')
  .transform(Number);
export const recordPictureParamsSchema = z.object({ recordId: idSchema, round: roundNumber, role: photoRoleSchema });

/** Largest bundle that is checked by upload, MiB; `verify` on the command line takes larger ones. */
export const MOST_BUNDLE_UPLOAD_MIB = 512;
export const bundleCheckBodySchema = z.object({
  uploadId: z.string().min(1).max(64),
  /** Fingerprint of the key as the shop gave it; left out, this installation's own key is expected. */
  knownFingerprint: z.string().trim().max(80).optional(),
});
export const bundleCheckSchema = verificationSchema.meta({ id: 'BundleCheck' });

/** The public half of the key that seals this installation's records. */
export const sealKeySchema = z
  .object({ fingerprint: z.string(), publicKeyPem: z.string(), qrSvg: z.string() })
  .meta({ id: 'SealKey' });

const MOST_TIME_STAMP_CHARACTERS = 100_000;
/** Reply of a time-stamping authority (RFC 3161) over the record's signature. */
export const timeStampBodySchema = z.object({ replyBase64: z.base64().min(1).max(MOST_TIME_STAMP_CHARACTERS) });
