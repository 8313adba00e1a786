import type { AssessmentBasis } from '../domain/api/assessments.ts';
import type { Assessment, Round } from '../domain/index.ts';
import { measuredRound } from './measured-round.ts';

export interface DoneRound {
  readonly roundNumber: number;
  readonly basis: AssessmentBasis;
  readonly result: Assessment;
}

/** Before the first round without a before photo the zone is taken to have been covered all over. */
export const COVERED_ALL_OVER = 1;

/** The measured rounds of a zone before one of them, oldest first, as advice takes them. Rounds without settings say nothing. */
export function earlierRounds(done: readonly DoneRound[], beforeNumber: number): Round[] {
  let left = COVERED_ALL_OVER;
  const rounds: Round[] = [];
  for (const { roundNumber, basis, result } of done) {
    if (roundNumber >= beforeNumber) break;
    const before = result.before?.residue.value ?? left;
    left = result.after.residue.value;
    if (basis.settings === null) continue;
    rounds.push(measuredRound({ ...basis, settings: basis.settings }, result, before));
  }
  return rounds;
}
