import { type AdviceVerdict, type History, type Round } from '../../domain/index.ts';
import { residueInterval } from '../belief/measured-residue.ts';
import { percent } from './explain-round.ts';
import { judgedReading } from './round-response.ts';

/** What the rounds together say. */
export interface Weighed {
  readonly reachableShare: number;
  readonly withinShare: number;
  /** Earlier zones of the shop that were learned from. */
  readonly zonesLearned: number;
}

/** One plain sentence with the numbers behind the verdict. */
export function explainVerdict(history: History, verdict: AdviceVerdict, weighed: Weighed): string {
  const { reachableShare } = weighed;
  const target = percent(history.target.residueFractionMax);
  const latest = history.rounds.at(-1);
  const patches = history.testPatches?.length ?? 0;
  if (latest === undefined && patches > 0) {
    const tried = patches === 1 ? 'one test patch' : `${patches} test patches`;
    return verdict === 'change method'
      ? `After ${tried} the chance that any setting of this machine gets to the target of ${target} is only about ${chance(reachableShare)}.`
      : `The zone itself has not been treated yet; the first round is chosen from ${tried}, for a target of ${target}.`;
  }
  if (latest === undefined) {
    const source =
      weighed.zonesLearned === 0
        ? 'common practice for this kind of surface'
        : `${weighed.zonesLearned} earlier ${weighed.zonesLearned === 1 ? 'zone' : 'zones'} of this kind and common practice`;
    return `Nothing has been measured yet; the first round is chosen from ${source}, for a target of ${target}.`;
  }
  const judged = judgedReading(latest);
  const { low, high } = residueInterval(judged);
  const seen = `${photoOf(latest)} shows ${percent(judged.residueFraction)} residue (${percent(low)} to ${percent(high)})`;
  switch (verdict) {
    case 'meets target':
      return high <= history.target.residueFractionMax
        ? `${seen}, all of it within the target of ${target}.`
        : `${seen}, and weighed with the rounds before it the chance that the target of ${target} is met is ${chance(weighed.withinShare)}.`;
    case 'cannot tell':
      return latest.scrapeTest === 'material came off'
        ? `${seen} against a target of ${target}, but the scrape test brought material off, and the scrape test decides.`
        : `${seen}, which reaches over the target of ${target}: photograph again first, and treat again only if it stays so.`;
    case 'another round':
      return `${seen} against a target of ${target}; the chance that this machine still gets there is about ${chance(reachableShare)}.${gatheredHint(latest)}`;
    case 'change method':
      return `${seen} against a target of ${target}, and after ${rounds(history)} the chance that any setting of this machine gets there is only about ${chance(reachableShare)}.`;
  }
}

function photoOf({ after: { worstSquare, residueFraction } }: Round): string {
  return worstSquare === undefined
    ? 'The last photo'
    : `The worst 76 mm square of the last photo (${percent(residueFraction)} in the whole zone)`;
}

/** The worst square holds so many times the share of the whole zone that the rest hardly counts. Chosen by us. */
const GATHERED = 4;

function gatheredHint({ after: { worstSquare, residueFraction } }: Round): string {
  if (worstSquare === undefined || worstSquare.residueFraction < GATHERED * residueFraction) return '';
  return ' What is left lies close together: it may be enough to treat the part about that square again.';
}

const chance = (share: number): string => `${Math.round(100 * share)} %`;
const rounds = ({ rounds: { length } }: History): string => (length === 1 ? 'one round' : `${length} rounds`);
