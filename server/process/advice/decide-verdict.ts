import { type AdviceVerdict, type History, type Round } from '../../domain/index.ts';
import { residueInterval } from '../belief/measured-residue.ts';
import { hasStalled, readTarget } from './round-response.ts';

/**
 * Chance of still reaching the target below which the method is given up, by how many rounds speak: patience first, then
 * an end. Chosen by the closed-loop test (method given up within four rounds where nothing helps, and hardly elsewhere).
 */
const GIVE_UP_BELOW = [0.02, 0.06, 0.15, 0.35] as const;
/** While rounds still take much off, only a nearly certain failure counts, and only from the fourth round on. */
const GIVE_UP_MOVING = { below: 0.05, fromRounds: 4 };
/** A stalled round of this many passes says as much as {@link LONG_ROUND_COUNTS} ordinary ones. Common practice. */
const LONG_ROUND_PASSES = 8;
const LONG_ROUND_COUNTS = 4;

/** @param reachableShare chance that some stroke of this machine still brings the surface to the target */
export function decideVerdict(history: History, reachableShare: number): AdviceVerdict {
  const latest = history.rounds.at(-1);
  if (latest === undefined) return 'another round';
  const target = history.target.residueFractionMax;
  const reading = readTarget(latest, target);
  if (reading === 'met') return 'meets target';
  if (reading === 'perhaps met') return 'cannot tell';
  if (residueInterval(latest).low <= target) return 'another round';
  return isHopeless(history.rounds, latest, reachableShare) ? 'change method' : 'another round';
}

function isHopeless(rounds: readonly Round[], latest: Round, reachableShare: number): boolean {
  if (!hasStalled(latest)) {
    return rounds.length >= GIVE_UP_MOVING.fromRounds && reachableShare < GIVE_UP_MOVING.below;
  }
  const long = rounds.filter((round) => round.settings.passes >= LONG_ROUND_PASSES && hasStalled(round)).length;
  const speaking = rounds.length + long * (LONG_ROUND_COUNTS - 1);
  return reachableShare < GIVE_UP_BELOW[Math.min(speaking, GIVE_UP_BELOW.length) - 1];
}
