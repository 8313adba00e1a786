import type { AdviceVerdict } from './advice.ts';
import type { GradeDecision } from './grade.ts';

/**
 * What the advice says, beside the grade. Advice weighs the share of the whole zone, a grade its worst square: what does
 * not meet the grade there is neither done nor open, however small the share of the whole.
 */
export function verdictBesideGrade(verdict: AdviceVerdict, decision: GradeDecision | null): AdviceVerdict {
  const isOpenOrDone = verdict === 'meets target' || verdict === 'cannot tell';
  return isOpenOrDone && decision === 'does not meet' ? 'another round' : verdict;
}
