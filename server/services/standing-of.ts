import type { AssessmentSummary } from '../domain/api/assessments.ts';
import type { ZoneStanding } from '../domain/api/zones.ts';

/** Where a zone stands by its newest finished assessment. */
export function standingOf(latestDone: AssessmentSummary | null, roundCount: number): ZoneStanding {
  if (latestDone === null) return roundCount === 0 ? 'not started' : 'in work';
  if (latestDone.verdict !== null) return latestDone.verdict;
  if (latestDone.decision === 'meets') return 'meets target';
  return latestDone.decision === 'does not meet' ? 'another round' : 'in work';
}
