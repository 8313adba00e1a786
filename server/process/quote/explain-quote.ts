import { type Measured, type Quote, type SurfaceKind } from '../../domain/index.ts';
import { DEVIATIONS_AT_95 } from '../belief/measured-residue.ts';
import { percent } from '../advice/explain-round.ts';
import { type LogMinutes } from './log-minutes.ts';
import { type ZoneMinutes } from './zone-minutes.ts';
import { predictZone, type ZonePrediction } from './predict-zone.ts';

export interface QuoteFacts {
  readonly kind: SurfaceKind;
  readonly target: Quote['target'];
  readonly minutes: Measured;
  readonly prediction: ZonePrediction;
  /** One zone by common practice alone. */
  readonly usual: LogMinutes;
  /** What earlier zones of the kind took, and how many zones of the kind there were at all. */
  readonly taken: readonly ZoneMinutes[];
  readonly zonesOfKind: number;
}

/** Why the middle is what it is, and what makes the range as wide as it is. */
export function explainQuote(facts: QuoteFacts): Pick<Quote, 'because' | 'rangeBecause'> {
  const { kind, target, minutes } = facts;
  const where = kind === 'unknown' ? 'a surface of unknown kind' : kind;
  return {
    because: `On ${where} this machine should need ${minutes.value.toFixed(1)} min/m2 of beam time for ${percent(target.residueFractionMax)} residue (${minutes.low.toFixed(1)} to ${minutes.high.toFixed(1)} min/m2), ${sourceOf(facts)}.`,
    rangeBecause: rangeBecause(facts),
  };
}

function sourceOf({ taken, zonesOfKind }: QuoteFacts): string {
  if (taken.length === 0) return 'from common practice alone';
  const took = taken.map(({ mean }) => Math.exp(mean));
  const least = Math.min(...took).toFixed(1);
  const span = took.length === 1 ? `${least} min/m2` : `${least} to ${Math.max(...took).toFixed(1)} min/m2`;
  const open = taken.filter(({ isFinished }) => !isFinished).length;
  const still = open === 0 ? '' : `, with what ${open === taken.length ? 'is' : `is on ${open} of them`} still to do`;
  const others = zonesOfKind - taken.length;
  const without =
    others === 0 ? '' : `; ${zonesWord(others)} more hardly got there and ${others === 1 ? 'is' : 'are'} not in it`;
  return `learned from ${zonesWord(taken.length)} of this kind, which took ${span}${still}${without}`;
}

const zonesWord = (count: number): string => `${count} earlier ${count === 1 ? 'zone' : 'zones'}`;

/** Finished zones after which somebody would quote anew, and that begin to tell how far zones differ. */
const SOME_ZONES = 3;
/** Time of a finished zone is known within the hand's speed. */
const FINISHED_DEVIATION = 0.12;

function rangeBecause({ minutes, taken, usual, prediction }: QuoteFacts): string {
  const ends = factor(minutes.high / minutes.low);
  if (taken.length === 0) {
    const alike = Array.from({ length: SOME_ZONES }, () => ({ mean: usual.mean, deviation: FINISHED_DEVIATION }));
    const { quantile } = predictZone(usual, alike);
    const then = factor(quantile(0.975) / quantile(0.025));
    return (
      `The range is wide, a factor of ${ends} from end to end, because no zone of this kind has been measured with this machine and common practice does not say how firmly it sits. ` +
      `After ${SOME_ZONES} finished zones that go alike it would be about ${then}.`
    );
  }
  const between = factor(Math.exp(DEVIATIONS_AT_95 * prediction.betweenZones));
  if (taken.length >= SOME_ZONES && prediction.betweenZones > prediction.ofMean) {
    return `Most of the range, a factor of ${ends} from end to end, is how far zones of this kind differ from one another here: about a factor of ${between} either way. A patch on this very surface would tell which it is.`;
  }
  return `Most of the range, a factor of ${ends} from end to end, is that ${taken.length === 1 ? 'one zone tells' : `${taken.length} zones tell`} little about the next; each further finished zone narrows it.`;
}

const factor = (ratio: number): string => ratio.toFixed(ratio < 10 ? 1 : 0);
