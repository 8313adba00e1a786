import { type History } from '../../domain/index.ts';
import { arealEnergy } from '../../domain/energy/areal-energy.ts';
import { hasStalled } from './round-response.ts';
import { strokeDepth } from './stroke-depth.ts';

/** A later round is much gentler below this part of the earlier one's stroke and of its energy. Chosen by us. */
const MUCH_GENTLER = 0.5;
/** It took most off where it left less than this part of what it found. Chosen by us. */
const MOSTLY_GONE = 0.3;

/**
 * A doubt in one sentence where two rounds can hardly both be as written: the survivors of a round that stalled went in a
 * much gentler one after it. Common practice: what withstood a deep stroke is not moved by a weak one.
 */
export function contradictingRounds({ rounds }: Pick<History, 'rounds'>): string | null {
  for (const [later, { settings, before, after }] of rounds.entries()) {
    if (after.residueFraction > MOSTLY_GONE * before.residueFraction) continue;
    const earlier = rounds
      .slice(0, later)
      .findIndex(
        (round) =>
          hasStalled(round) &&
          strokeDepth(settings) < MUCH_GENTLER * strokeDepth(round.settings) &&
          arealEnergy(settings) < MUCH_GENTLER * arealEnergy(round.settings),
      );
    if (earlier < 0) continue;
    return (
      `Rounds ${earlier + 1} and ${later + 1} contradict each other: the gentler one took off what the stronger one had left, ` +
      `so check what was really set before trusting this advice.`
    );
  }
  return null;
}
