import type { ASSESSMENT_ENDPOINTS } from '../../domain/api/assessment-endpoints.ts';
import { success } from '../../domain/index.ts';
import type { Outcome } from '../../domain/index.ts';
import type { Assessments } from '../../services/keep-assessments.ts';
import type { CorrectionBook } from '../../services/keep-corrections.ts';
import type { ProgressBoard } from '../../services/progress-board.ts';
import type { FileAnswer, HandledEndpointName, HandlersOf } from '../call.ts';
import { actorOf } from './actor-of.ts';
import { progressFeed } from './progress-feed.ts';

export interface AssessmentRoutesParts {
  readonly assessments: Assessments;
  readonly corrections: CorrectionBook;
  readonly board: ProgressBoard;
}

type Names = Extract<HandledEndpointName, keyof typeof ASSESSMENT_ENDPOINTS>;

export function assessmentRoutes({ assessments, corrections, board }: AssessmentRoutesParts): HandlersOf<Names> {
  return {
    listAssessments: async ({ query }) => success(await assessments.list(query)),
    startAssessment: ({ params, body, caller }) => assessments.start(params.roundId, body, actorOf(caller)),
    readAssessment: ({ params }) => assessments.read(params.assessmentId),
    followAssessment: ({ params: { assessmentId } }) =>
      Promise.resolve(success(progressFeed(assessmentId, board, () => assessments.progress(assessmentId)))),
    readOverlay: async ({ params }) => png(await assessments.overlay(params.assessmentId)),
    readClassMap: async ({ params, query }) =>
      png(await corrections.classMap(params.assessmentId, params.map, query.corrected === 'yes')),
    readDoubtfulMap: async ({ params }) => png(await assessments.doubtfulMap(params.assessmentId, params.map)),
    listCorrections: ({ params }) => corrections.list(params.assessmentId),
    tryCorrection: ({ params, body }) => corrections.try(params.assessmentId, body),
    addCorrection: ({ params, body, caller }) => corrections.add(params.assessmentId, body, actorOf(caller)),
    withdrawCorrection: ({ params, caller }) =>
      corrections.withdraw(params.assessmentId, params.correctionId, actorOf(caller)),
  };
}

/** An assessment that is run again draws its pictures anew. */
const png = (making: Outcome<Uint8Array>): Outcome<FileAnswer> =>
  making.ok ? success({ mediaType: 'image/png', body: making.value, isImmutable: false }) : making;
