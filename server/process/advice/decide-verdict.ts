import { type AdviceVerdict, type History, type Machine, type Round } from '../../domain/index.ts';
import { residueInterval } from '../belief/measured-residue.ts';
import { everythingTried } from './everything-tried.ts';
import { hasStalled, readTarget, speaksForTarget } from './round-response.ts';
import { isNearDeepest } from './stroke-depth.ts';

/**
 * Chance of still reaching the target below which the method is given up after a stalled round, by how many rounds speak:
 * patience first, then an end. Chosen by the closed-loop test (method given up within four rounds where nothing helps, and
 * hardly elsewhere).
 */
const GIVE_UP_BELOW = [0.02, 0.03, 0.05, 0.6] as const;
/** A stall of the deepest stroke, or a second stall in a row after that many rounds, leaves hope only to the nearly certain. */
const GIVE_UP_SPENT = 0.85;
/** While rounds still take much off, only likely failure counts, and only from the fourth round on. */
const GIVE_UP_MOVING = { below: 0.35, fromRounds: 4 };
/** A stalled round of this many passes says as much as {@link LONG_ROUND_COUNTS} ordinary ones. Common practice. */
const LONG_ROUND_PASSES = 8;
const LONG_ROUND_COUNTS = 4;

/** What the belief says after all rounds. */
export interface Outlook {
  /** Chance that some stroke of this machine still brings the surface to the target. */
  readonly reachableShare: number;
  /** Chance that the residue now is within the target, by the last photo and all rounds before it. */
  readonly withinShare: number;
}

/** Conformance probability that counts as met when photo and rounds are weighed together. Source: [JCGM106]. */
const CONFORMS = 0.95;

export function decideVerdict(history: History, { reachableShare, withinShare }: Outlook): AdviceVerdict {
  const tried = everythingTried(history);
  const isLost = tried.length > 0 && isHopeless(history.machine, tried, reachableShare);
  const latest = history.rounds.at(-1);
  if (latest === undefined) return isLost ? 'change method' : 'another round';
  const target = history.target.residueFractionMax;
  const reading = readTarget(latest, target);
  if (reading === 'met') return 'meets target';
  if (reading === 'perhaps met') {
    return withinShare >= CONFORMS && speaksForTarget(latest, target) ? 'meets target' : 'cannot tell';
  }
  if (residueInterval(latest).low <= target) return 'another round';
  return isLost ? 'change method' : 'another round';
}

function isHopeless(machine: Machine, rounds: readonly Round[], reachableShare: number): boolean {
  const latest = rounds[rounds.length - 1];
  if (!hasStalled(latest)) {
    return rounds.length >= GIVE_UP_MOVING.fromRounds && reachableShare < GIVE_UP_MOVING.below;
  }
  const isAgain = rounds.length >= GIVE_UP_BELOW.length && rounds.slice(-2).every(hasStalled);
  if (isAgain || isNearDeepest(latest.settings, machine)) return reachableShare < GIVE_UP_SPENT;
  const long = rounds.filter((round) => round.settings.passes >= LONG_ROUND_PASSES && hasStalled(round)).length;
  const speaking = rounds.length + long * (LONG_ROUND_COUNTS - 1);
  return reachableShare < GIVE_UP_BELOW[Math.min(speaking, GIVE_UP_BELOW.length) - 1];
}
