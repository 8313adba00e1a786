import { type History, type Round } from '../../domain/index.ts';
import { arealEnergy } from '../../domain/energy/areal-energy.ts';
import { hasStalled } from './round-response.ts';
import { strokeDepth } from './stroke-depth.ts';

/** A later round is much gentler below this part of the earlier one's stroke and of its energy. Chosen by us. */
const MUCH_GENTLER = 0.5;
/** It took most off where it left less than this part of what it found. Chosen by us. */
const MOSTLY_GONE = 0.3;
/** A later round is no stronger up to this part of the earlier one's stroke and energy: a step of the dial. Chosen by us. */
const NO_STRONGER = 1.05;
/** As it was, and as good as gone: then even the same stroke cannot have done both. Chosen by us. */
const AS_IT_WAS = 0.9;
const AS_GOOD_AS_GONE = 0.1;

/**
 * A doubt in one sentence where two rounds can hardly both be as written: the survivors of a round that stalled went in a
 * much gentler one after it, or all at once in one that was no stronger. Common practice: what withstood a deep stroke is
 * not moved by a weak one.
 */
export function contradictingRounds({ rounds }: Pick<History, 'rounds'>): string | null {
  for (const [later, round] of rounds.entries()) {
    const earlier = rounds.slice(0, later).findIndex((stalled) => saysWhy(stalled, round) !== null);
    if (earlier < 0) continue;
    return (
      `Rounds ${earlier + 1} and ${later + 1} contradict each other: ${saysWhy(rounds[earlier], round) ?? ''}, ` +
      `so check what was really set before trusting this advice.`
    );
  }
  return null;
}

function saysWhy(earlier: Round, later: Round): string | null {
  const gentlerThan = (part: number): boolean =>
    strokeDepth(later.settings) < part * strokeDepth(earlier.settings) &&
    arealEnergy(later.settings) < part * arealEnergy(earlier.settings);
  if (hasStalled(earlier) && partLeft(later) <= MOSTLY_GONE && gentlerThan(MUCH_GENTLER)) {
    return 'the gentler one took off what the stronger one had left';
  }
  if (partLeft(earlier) > AS_IT_WAS && partLeft(later) < AS_GOOD_AS_GONE && gentlerThan(NO_STRONGER)) {
    return 'the later one was no stronger, and took off what the earlier one had left as it was';
  }
  return null;
}

/** Part of what a round found that it left; a round that found nothing left nothing to tell. */
const partLeft = ({ before, after }: Round): number =>
  before.residueFraction === 0 ? 1 : after.residueFraction / before.residueFraction;
