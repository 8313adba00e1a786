import type { AdviceVerdict } from './advice.ts';
import type { GradeDecision } from './grade.ts';

/**
 * What the advice says, beside the grade. Advice weighs residue alone; a grade counts stain, too, and refuses what a scrape
 * test brings off: what does not meet it is neither done nor open.
 */
export function verdictBesideGrade(verdict: AdviceVerdict, decision: GradeDecision | null): AdviceVerdict {
  const isOpenOrDone = verdict === 'meets target' || verdict === 'cannot tell';
  return isOpenOrDone && decision === 'does not meet' ? 'another round' : verdict;
}
