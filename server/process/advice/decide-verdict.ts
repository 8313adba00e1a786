import { type AdviceVerdict, type History, type Round } from '../../domain/index.ts';
import { hasStalled, readTarget, speaksForTarget } from './round-response.ts';
import { everythingTried } from './everything-tried.ts';
import { isNearDeepest, strokeDepth } from './stroke-depth.ts';

/**
 * Chance of still reaching the target below which the method is given up after a stalled round, by how many rounds speak:
 * patience first, then an end. Chosen by the closed-loop test (method given up within four rounds where nothing helps, and
 * hardly elsewhere).
 */
const GIVE_UP_BELOW = [0.02, 0.03, 0.05, 0.6] as const;
/** Patches alone never use up more patience than this many rounds. */
const MOST_PATIENT = 3;
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

/** With this chance that the target is met already nothing is given up. Chosen by us: one in five. */
const PERHAPS_WITHIN = 0.2;
/** Conformance probability that counts as met when photo and rounds are weighed together. Source: [JCGM106]. */
const CONFORMS = 0.95;

export function decideVerdict(history: History, { reachableShare, withinShare }: Outlook): AdviceVerdict {
  const isLost = isHopeless(history, reachableShare);
  const latest = history.rounds.at(-1);
  if (latest === undefined) return isLost ? 'change method' : 'another round';
  const target = history.target.residueFractionMax;
  const reading = readTarget(latest, target);
  if (reading === 'met') return 'meets target';
  if (reading === 'perhaps met') {
    return withinShare >= CONFORMS && speaksForTarget(latest, target) ? 'meets target' : 'cannot tell';
  }
  if (withinShare > PERHAPS_WITHIN) return 'another round';
  return isLost ? 'change method' : 'another round';
}

/**
 * Test patches speak through the chance alone: they cost too little to end patience with the zone itself. Where patches are
 * made at all, the method is given up only after one of about the deepest stroke, which is the cheapest proof there is; and
 * before any round only if that patch, too, left the surface as it was.
 */
function isHopeless(history: History, reachableShare: number): boolean {
  const { machine, rounds, testPatches = [] } = history;
  const deep = everythingTried(history).filter(({ settings }) => isNearDeepest(settings, machine));
  if (testPatches.length > 0 && deep.length === 0) return false;
  const latest = rounds.at(-1);
  if (latest === undefined) {
    return deep.some(leftAsItWas) && reachableShare < GIVE_UP_BELOW[Math.min(testPatches.length, MOST_PATIENT) - 1];
  }
  if (!hasStalled(latest)) {
    return rounds.length >= GIVE_UP_MOVING.fromRounds && reachableShare < GIVE_UP_MOVING.below;
  }
  const isAgain = rounds.length >= GIVE_UP_BELOW.length && stalledTwice(rounds.slice(-2));
  if (isAgain || isNearDeepest(latest.settings, machine)) return reachableShare < GIVE_UP_SPENT;
  const long = rounds.filter((round) => round.settings.passes >= LONG_ROUND_PASSES && hasStalled(round)).length;
  const speaking = rounds.length + long * (LONG_ROUND_COUNTS - 1);
  return reachableShare < GIVE_UP_BELOW[Math.min(speaking, GIVE_UP_BELOW.length) - 1];
}

/** Both rounds stalled, and the second was not simply the first again: a deeper stroke failed, too. */
const stalledTwice = ([earlier, latest]: readonly Round[]): boolean =>
  hasStalled(earlier) && hasStalled(latest) && strokeDepth(latest.settings) > DEEPER * strokeDepth(earlier.settings);
const DEEPER = 1.1;

/** A patch that kept more than this part of its residue is as it was, but for the photo's error. */
const KEPT_PART = 0.85;
const leftAsItWas = ({ before, after }: Round): boolean => after.residueFraction > KEPT_PART * before.residueFraction;
