import { z } from 'zod';
import { ADVICE_VERDICTS } from '../advice.ts';
import { assessmentSchema } from '../assessment.ts';
import { GRADE_DECISIONS } from '../grade.ts';
import { pictureLightSchema } from '../picture-light.ts';
import { finiteNumber, measuredSchema } from '../measured.ts';
import { STREAK_KINDS } from '../streaks.ts';
import { settingsSchema } from '../settings.ts';
import { fractionSchema, positiveMillimetres } from '../units.ts';
import { correctedSurfaceSchema } from './corrections.ts';
import { idSchema, momentSchema, ownId } from './identifiers.ts';
import { pageOf, pageQuery } from './paging.ts';
import { personRefSchema } from './people.ts';
import { outlineSchema } from './photos.ts';
import { faultNoteSchema } from './problem.ts';
import { orNull } from './or-null.ts';

export const SCRAPE_TESTS = ['clean', 'material came off'] as const;

export const RUN_STATES = ['queued', 'running', 'done', 'failed'] as const;
export const runStateSchema = z.enum(RUN_STATES);
export type RunState = (typeof RUN_STATES)[number];

/** How far an analysis is. `fractionDone` counts stages, not seconds. */
export const progressSchema = z
  .object({
    state: runStateSchema,
    /** What is being done, in words for the operator; null before the start and after the end. */
    stage: z.string().nullable(),
    fractionDone: fractionSchema,
    /** Analyses that come first; 0 when running, done or failed. */
    waitingBefore: z.int().min(0),
    fault: orNull(faultNoteSchema),
  })
  .meta({ id: 'Progress' });
export type Progress = z.infer<typeof progressSchema>;

/** What lists show of an assessment. The numbers are null until it is done. */
export const assessmentSummarySchema = z
  .object({
    id: idSchema,
    jobId: idSchema,
    jobName: z.string(),
    zoneId: idSchema,
    zoneName: z.string(),
    roundId: idSchema,
    roundNumber: z.int(),
    state: runStateSchema,
    queuedAt: momentSchema,
    finishedAt: orNull(momentSchema),
    residue: measuredSchema.nullable(),
    stain: measuredSchema.nullable(),
    streakKind: z.enum(STREAK_KINDS).nullable(),
    verdict: z.enum(ADVICE_VERDICTS).nullable(),
    targetGrade: z.string().nullable(),
    /** Against the target grade. */
    decision: z.enum(GRADE_DECISIONS).nullable(),
    /** Beam time of this round's settings. */
    minutesPerSquareMetre: finiteNumber.min(0).nullable(),
    isCorrected: z.boolean(),
    /** Of the after photo, as people corrected its class map; null where nobody did. */
    correctedResidue: orNull(fractionSchema),
    /** Against the target grade, on the map as people corrected it; null where nobody did. */
    correctedDecision: orNull(z.enum(GRADE_DECISIONS)),
    fault: orNull(faultNoteSchema),
  })
  .meta({ id: 'AssessmentSummary' });
export type AssessmentSummary = z.infer<typeof assessmentSummarySchema>;

/** A class map: the upright photo reduced by a whole or broken factor, both maps alike in kind. */
const classMapSizeSchema = z
  .object({
    widthPx: z.int().positive(),
    heightPx: z.int().positive(),
    photoPxPerPixel: finiteNumber.positive(),
    /** From the map's pixels to the card frame, mm (px of the photo without a card), row-major 3 x 3; the lens left out. */
    planeFromMap: z.array(finiteNumber).length(9),
    /** What shows the photo in true colour; null where no card told it, or an earlier version measured it. */
    light: pictureLightSchema.nullable(),
    /** Whether a second segmenter was asked, so that there is a picture of where the two disagree. */
    hasDoubtful: z.boolean(),
  })
  .meta({ id: 'ClassMapSize' });

/** What the assessment was made from, as it stood when it was asked for. */
export const assessmentBasisSchema = z
  .object({
    settings: settingsSchema.nullable(),
    machineId: orNull(idSchema),
    cardId: orNull(idSchema),
    surfaceKind: z.string(),
    thicknessMm: positiveMillimetres.nullable(),
    scrapeTest: z.enum(SCRAPE_TESTS).nullable(),
    /** Straw to blue colours seen by a person; absent in assessments of earlier versions. */
    heatTint: z.boolean().nullable().optional(),
    outlines: z.object({ before: orNull(outlineSchema), after: orNull(outlineSchema) }),
  })
  .meta({ id: 'AssessmentBasis' });
export type AssessmentBasis = z.infer<typeof assessmentBasisSchema>;

export const zoneAssessmentSchema = assessmentSummarySchema
  .extend({
    progress: progressSchema,
    requestedBy: orNull(personRefSchema),
    startedAt: orNull(momentSchema),
    programVersion: z.string(),
    basis: assessmentBasisSchema,
    photos: z.object({ before: orNull(idSchema), after: idSchema }),
    /** As measured; corrections by people never change it. */
    result: assessmentSchema.nullable(),
    classMaps: z.object({ before: orNull(classMapSizeSchema), after: orNull(classMapSizeSchema) }),
    /** Each streak as found, as points along it in pixels of the after class map. */
    streakLines: z.array(z.array(z.tuple([finiteNumber, finiteNumber]))),
    /** Shares after the corrections that stand; null without any. */
    corrected: z.object({ before: orNull(correctedSurfaceSchema), after: orNull(correctedSurfaceSchema) }),
  })
  .meta({ id: 'ZoneAssessment' });
export type ZoneAssessment = z.infer<typeof zoneAssessmentSchema>;

/** Starts an analysis of the round as it stands; the target is the zone's unless another one is given. */
export const newAssessmentSchema = z.object({
  ...ownId,
  targetGrade: z.string().trim().min(1).max(60).nullable().optional(),
});

export const assessmentsQuerySchema = pageQuery(['queuedAt', 'residue'], '-queuedAt').extend({
  jobId: idSchema.optional(),
  zoneId: idSchema.optional(),
  roundId: idSchema.optional(),
  state: runStateSchema.optional(),
});
export const assessmentsPageSchema = pageOf(assessmentSummarySchema);
