import type { ZoneAssessment } from '@domain/api/assessments.ts';
import type { Assessment } from '@domain/assessment.ts';

/** What every part of the answer is told: the assessment, and its result, which is there. */
export interface AnswerProps {
  readonly assessment: ZoneAssessment;
  readonly result: Assessment;
}
