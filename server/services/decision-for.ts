import type { Grade, GradeDecision } from '../domain/index.ts';
import { matchTarget } from '../measure/grade/match-target.ts';

/** What was decided on the grade that a target names; null without a target, or for one that is no grade. */
export function decisionFor(target: string | null, grades: readonly Grade[]): GradeDecision | null {
  if (target === null) return null;
  const matching = matchTarget(target);
  if (!matching.ok) return null;
  const { standard, grade } = matching.value;
  return grades.find((decided) => decided.standard === standard && decided.grade === grade)?.decision ?? null;
}
