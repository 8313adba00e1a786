import type { AssessmentSummary } from '@domain/api/assessments.ts';
import { assertNever } from '@domain/assert-never.ts';
import { verdictBesideGrade } from '@domain/verdict-beside-grade.ts';
import type { Mark } from '../../components/standing-mark.tsx';

export type AnswerKind = 'done' | 'another round' | 'cannot tell' | 'another method' | 'measured';

export const ANSWER_MARKS: Readonly<Record<AnswerKind, Mark>> = {
  done: 'done',
  'another round': 'round',
  'cannot tell': 'doubt',
  'another method': 'other',
  measured: 'none',
};

/** The one answer: what the advice says beside the grade, else what the grade says, else only what was measured. */
export function answerOf({ verdict, decision }: Pick<AssessmentSummary, 'verdict' | 'decision'>): AnswerKind {
  if (verdict === null) return answerOfDecision(decision);
  const told = verdictBesideGrade(verdict, decision);
  switch (told) {
    case 'meets target':
      return 'done';
    case 'another round':
    case 'cannot tell':
      return told;
    case 'change method':
      return 'another method';
    default:
      return assertNever(told);
  }
}

type Corrected = Pick<AssessmentSummary, 'verdict' | 'decision' | 'correctedDecision'>;

/** The answer to show: a correction that decides otherwise than the measurement did has the last word. */
export function shownAnswer(assessment: Corrected): AnswerKind {
  const { decision, correctedDecision: anew } = assessment;
  return anew === null || anew === decision ? answerOf(assessment) : answerOfDecision(anew);
}

function answerOfDecision(decision: AssessmentSummary['decision']): AnswerKind {
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
