import type { ZoneAssessment } from '@domain/api/assessments.ts';
import { assertNever } from '@domain/assert-never.ts';
import { isTargetGrade } from '../../components/grade-table.tsx';
import type { Mark } from '../../components/standing-mark.tsx';

export type AnswerKind = 'done' | 'another round' | 'cannot tell' | 'another method' | 'measured';

export const ANSWER_MARKS: Readonly<Record<AnswerKind, Mark>> = {
  done: 'done',
  'another round': 'round',
  'cannot tell': 'doubt',
  'another method': 'other',
  measured: 'none',
};

/** The one answer: what the advice says, else what the target grade says, else only what was measured. */
export function answerOf({ verdict, decision }: Pick<ZoneAssessment, 'verdict' | 'decision'>): AnswerKind {
  switch (verdict) {
    case 'meets target':
      return 'done';
    case 'another round':
    case 'cannot tell':
      return verdict;
    case 'change method':
      return 'another method';
    case null:
      return answerOfDecision(decision);
    default:
      return assertNever(verdict);
  }
}

type Corrected = Pick<ZoneAssessment, 'verdict' | 'decision' | 'targetGrade' | 'corrected'>;

/** What the target grade comes to on the map as people corrected it; null where they did not, or where no such grade is known. */
export function correctedDecision({ targetGrade, corrected }: Corrected): ZoneAssessment['decision'] {
  return corrected.after?.decided?.grades.find((line) => isTargetGrade(line, targetGrade))?.decision ?? null;
}

/** The answer to show: a correction that decides otherwise than the measurement did has the last word. */
export function shownAnswer(assessment: Corrected): AnswerKind {
  const anew = correctedDecision(assessment);
  return anew === null || anew === assessment.decision ? answerOf(assessment) : answerOfDecision(anew);
}

function answerOfDecision(decision: ZoneAssessment['decision']): AnswerKind {
  switch (decision) {
    case 'meets':
      return 'done';
    case 'does not meet':
      return 'another round';
    case 'cannot tell':
      return 'cannot tell';
    case null:
      return 'measured';
    default:
      return assertNever(decision);
  }
}
