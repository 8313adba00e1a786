import type { AssessmentSummary } from '../domain/api/assessments.ts';
import type { ZoneStanding } from '../domain/api/zones.ts';
import { verdictBesideGrade } from '../domain/verdict-beside-grade.ts';
import type { Tables } from './ledger.ts';

/** Where a zone stands by its newest finished assessment: a correction that decides otherwise has the last word. */
export function standingOf(latestDone: AssessmentSummary | null, roundCount: number): ZoneStanding {
  if (latestDone === null) return roundCount === 0 ? 'not started' : 'in work';
  const { decision, correctedDecision } = latestDone;
  if (correctedDecision !== null && correctedDecision !== decision) return STANDING_OF_DECISION[correctedDecision];
  if (latestDone.verdict !== null) return verdictBesideGrade(latestDone.verdict, decision);
  // What no advice was asked for and no grade decides is still in work.
  return decision === null || decision === 'cannot tell' ? 'in work' : STANDING_OF_DECISION[decision];
}

const STANDING_OF_DECISION = {
  meets: 'meets target',
  'does not meet': 'another round',
  'cannot tell': 'cannot tell',
} as const;

/** Puts a zone to where its newest finished assessment leaves it. */
export async function settleStanding(
  zone: { readonly id: string; readonly roundCount: number },
  { zones, assessments }: Pick<Tables, 'zones' | 'assessments'>,
): Promise<void> {
  await zones.setStanding(zone.id, standingOf(await assessments.latestDoneOf(zone.id), zone.roundCount));
}
