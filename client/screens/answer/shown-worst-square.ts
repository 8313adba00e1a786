import type { WorstUnitArea } from '@domain/surface.ts';
import type { AnswerProps } from './answer-props.ts';

/** The worst square to show: as corrected by hand, else as measured. */
export function shownWorstSquare({ assessment, result }: AnswerProps): {
  readonly worst: WorstUnitArea | null;
  readonly isCorrected: boolean;
} {
  const corrected = assessment.corrected.after?.decided?.worstUnitArea ?? null;
  return { worst: corrected ?? result.after.worstUnitArea, isCorrected: corrected !== null };
}
