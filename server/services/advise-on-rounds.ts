import { success } from '../domain/index.ts';
import type { Advice, History, Outcome, Round } from '../domain/index.ts';
import { adviseNextRound } from '../process/advice/advise-next-round.ts';
import { placePatches } from './place-patches.ts';
import type { StatedPatch } from './place-patches.ts';

/** What advice is asked from; the patches are placed here. */
export interface KnownOfZone extends Omit<History, 'rounds' | 'testPatches'> {
  readonly rounds: readonly Round[];
  readonly patches: readonly StatedPatch[];
}

export interface AdviceOnRounds {
  readonly advice: Advice;
  /** The rounds contradicted each other, so only the latest was weighed. */
  readonly areEarlierLeftOut: boolean;
}

/** Advice from all rounds of a zone, or from the latest alone where they cannot be rounds of one and the same zone. */
export function adviseOnRounds({ patches, rounds, ...known }: KnownOfZone): Outcome<AdviceOnRounds> {
  const advise = (some: readonly Round[], tried: readonly StatedPatch[]): Outcome<Advice> =>
    adviseNextRound({ ...known, rounds: [...some], testPatches: placePatches(tried, some) });
  const together = advise(rounds, patches);
  const isContradicted = !together.ok && together.fault.code === 'history-contradictory' && rounds.length > 1;
  const since = patches.filter(({ afterRounds }) => afterRounds === rounds.length);
  const latest = since.map((patch) => ({ ...patch, afterRounds: 1 }));
  const advising = isContradicted ? advise(rounds.slice(-1), latest) : together;
  return advising.ok ? success({ advice: advising.value, areEarlierLeftOut: isContradicted }) : advising;
}
