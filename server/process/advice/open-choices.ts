import { type History, type Machine, type Settings } from '../../domain/index.ts';
import { minutesPerSquareMetreOf } from '../../domain/kinematics/area-rate.ts';
import { zoneTarget } from './aim.ts';
import { everythingTried } from './everything-tried.ts';
import { hasStalled } from './round-response.ts';
import { deepestStroke, strokeDepth } from './stroke-depth.ts';

/** A stroke counts as the slowest of full width within this factor of stroke speed. */
const NEARLY_SLOWEST = 1.6;
/**
 * What a stroke left nearly as it was is not moved by a much weaker one: later strokes bite at least this part as deep as
 * any that stalled. Common practice. A stroke that took much off says no such thing, and what little it left often goes with
 * a gentler and quicker round.
 */
const AS_DEEP = 0.5;
/** How much deeper the next stroke has to be than any that stalled, at least. */
const DEEPER = 1.25;
/** After stalled rounds strokes climb so that the deepest of the machine has been tried in this round at the latest. */
const DEEPEST_BY_ROUND = 4;
/**
 * No round costs more than this many times what has been spent so far: each step stays in proportion to what is known. Where
 * patches were tried, they have shown what a dearer round does.
 * Chosen by the closed-loop test.
 */
const MOST_STAKE = 3;

/** Whether a round has been made with strokes about as slow as full width at the lowest frequency gives. */
export const hasTriedSlowestFullWidth = (history: History): boolean =>
  everythingTried(history).some(
    ({ settings }) => strokeSpeed(settings) <= NEARLY_SLOWEST * slowestFullWidth(history.machine),
  );

/**
 * The rounds that practice leaves open, out of all that the machine can do:
 *  - the line stays at full width until its lowest frequency has been tried, because width saves time;
 *  - after a round that stalled above the target the next stroke bites deeper than any that stalled, because extra passes of
 *    a stroke that is too weak add little. Where nothing deeper is left, everything stays open.
 * Common practice, both.
 */
export function openChoices(
  history: History,
  choices: readonly Settings[],
  { reachableShare, metShare }: { readonly reachableShare: number; readonly metShare: number },
): readonly Settings[] {
  const { machine, rounds } = history;
  const affordable = affordableChoices(history, strongEnough(rounds, choices));
  const latest = rounds.at(-1);
  const isStalled = latest !== undefined && hasStalled(latest) && metShare < PERHAPS_MET;
  const wide = hasTriedSlowestFullWidth(history)
    ? affordable
    : affordable.filter(({ scanWidthMm }) => scanWidthMm >= machine.scanWidthMm.max);
  if (!isStalled) return wide;
  const least = leastDepth(history, reachableShare);
  for (const some of [wide, affordable, choices]) {
    const deeper = some.filter((settings) => strokeDepth(settings) >= least);
    if (deeper.length > 0) return deeper;
  }
  return wide;
}

function strongEnough(rounds: History['rounds'], choices: readonly Settings[]): readonly Settings[] {
  const least = AS_DEEP * deepestStalled(rounds);
  const strong = choices.filter((settings) => strokeDepth(settings) >= least);
  return strong.length > 0 ? strong : choices;
}

function affordableChoices({ rounds, testPatches = [] }: History, choices: readonly Settings[]): readonly Settings[] {
  if (rounds.length === 0 || testPatches.length > 0) return choices;
  const spent = rounds.reduce((sum, round) => sum + minutesPerSquareMetreOf(round.settings), 0);
  const affordable = choices.filter((settings) => minutesPerSquareMetreOf(settings) <= MOST_STAKE * spent);
  return affordable.length > 0 ? affordable : choices;
}

/** Deepest stroke that a round stalled with; 0 where none did. */
const deepestStalled = (rounds: History['rounds']): number =>
  Math.max(0, ...rounds.filter(hasStalled).map(({ settings }) => strokeDepth(settings)));

/** Depth of stroke that comes next after a stall: in equal ratios to the deepest, which the fourth round tries at the latest. */
function leastDepth(history: History, reachableShare: number): number {
  const { machine, rounds } = history;
  const tried = deepestStalled(rounds);
  const residue = rounds[rounds.length - 1].after.residueFraction;
  if (reachableShare >= HOPEFUL_SHARE || residue <= NEAR_TARGET * zoneTarget(history)) return tried * DEEPER;
  const roundsLeft = Math.max(1, DEEPEST_BY_ROUND - rounds.length);
  const climb = (deepestStroke(machine) / tried) ** (1 / roundsLeft);
  return tried * Math.max(DEEPER, CLIMB_SLACK * climb);
}

/** With this chance that the target is met already, a weak round and another photo may settle it. */
const PERHAPS_MET = 0.5;
/** Below this many times the target a step deeper is enough: little is left, and most of the surface is done. */
const NEAR_TARGET = 3;
/** With this chance to reach the target strokes need not hurry to the deepest: it is tried to know when to give up. */
const HOPEFUL_SHARE = 0.9;

/** The stroke is picked from a ladder of settings: the nearest rung below is deep enough. */
const CLIMB_SLACK = 0.8;

const strokeSpeed = (settings: Settings): number => settings.scanWidthMm * settings.scanFrequencyHz;
const slowestFullWidth = (machine: Machine): number => machine.scanWidthMm.max * machine.scanFrequencyHz.min;
