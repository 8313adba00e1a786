import { type AdviceVerdict, type History } from '../../domain/index.ts';
import { residueInterval } from '../belief/measured-residue.ts';
import { percent } from './explain-round.ts';

/** One plain sentence with the numbers behind the verdict. */
export function explainVerdict(history: History, verdict: AdviceVerdict, reachableShare: number): string {
  const target = percent(history.target.residueFractionMax);
  const latest = history.rounds.at(-1);
  if (latest === undefined) {
    return `Nothing has been measured yet; the first round is chosen from common practice for this kind of surface, for a target of ${target}.`;
  }
  const { low, high } = residueInterval(latest);
  const seen = `${percent(latest.after.residueFraction)} residue (${percent(low)} to ${percent(high)})`;
  switch (verdict) {
    case 'meets target':
      return `The last photo shows ${seen}, all of it within the target of ${target}.`;
    case 'cannot tell':
      return latest.scrapeTest === 'material came off'
        ? `The last photo shows ${seen} against a target of ${target}, but the scrape test brought material off, and the scrape test decides.`
        : `The last photo shows ${seen}, which reaches over the target of ${target}: photograph again first, and treat again only if it stays so.`;
    case 'another round':
      return `The last photo shows ${seen} against a target of ${target}; the chance that this machine still gets there is about ${chance(reachableShare)}.`;
    case 'change method':
      return `The last photo shows ${seen} against a target of ${target}, and after ${rounds(history)} the chance that any setting of this machine gets there is only about ${chance(reachableShare)}.`;
  }
}

const chance = (share: number): string => `${Math.round(100 * share)} %`;
const rounds = ({ rounds: { length } }: History): string => (length === 1 ? 'one round' : `${length} rounds`);
