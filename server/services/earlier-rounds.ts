import type { AssessmentBasis } from '../domain/api/assessments.ts';
import { fraction } from '../domain/index.ts';
import type { Assessment, Round } from '../domain/index.ts';

export interface DoneRound {
  readonly roundNumber: number;
  readonly basis: AssessmentBasis;
  readonly result: Assessment;
}

/** Before the first round without a before photo the zone is taken to have been covered all over. */
const COVERED_ALL_OVER = 1;

/** The measured rounds of a zone before one of them, oldest first, as advice takes them. Rounds without settings say nothing. */
export function earlierRounds(done: readonly DoneRound[], beforeNumber: number): Round[] {
  let left = COVERED_ALL_OVER;
  const rounds: Round[] = [];
  for (const { roundNumber, basis, result } of done) {
    if (roundNumber >= beforeNumber) break;
    const { value, low, high } = result.after.residue;
    const before = result.before?.residue.value ?? left;
    left = value;
    if (basis.settings === null) continue;
    const speed = result.streaks.travelSpeedMmPerS;
    rounds.push({
      settings: basis.settings,
      before: { residueFraction: fraction(before) },
      after: { residueFraction: fraction(value), low: fraction(low), high: fraction(high) },
      ...(basis.scrapeTest === null ? {} : { scrapeTest: basis.scrapeTest }),
      ...(speed === null || speed.low <= 0 ? {} : { measuredTravelSpeedMmPerS: speed }),
    });
  }
  return rounds;
}
