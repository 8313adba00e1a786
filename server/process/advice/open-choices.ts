import { type History, type Machine, type Settings } from '../../domain/index.ts';
import { minutesPerSquareMetreOf } from '../kinematics/area-rate.ts';
import { type RoundProspect } from './round-prospect.ts';
import { hasStalled, readTarget } from './round-response.ts';

/** A stroke counts as the slowest of full width within this factor of stroke speed. */
const NEARLY_SLOWEST = 1.6;
/** How much deeper the next stroke has to be than any before, after a round that stalled. Chosen by the closed-loop test. */
const DEEPER = 1.25;

const MOST_STAKE = 1.5;

/** Whether a round has been made with strokes about as slow as full width at the lowest frequency gives. */
export const hasTriedSlowestFullWidth = ({ rounds, machine }: History): boolean =>
  rounds.some(({ settings }) => strokeSpeed(settings) <= NEARLY_SLOWEST * slowestFullWidth(machine));

/**
 * The rounds that practice leaves open, out of all that the machine can do:
 *  - the line stays at full width until its lowest frequency has been tried, because width saves time;
 *  - after a round that stalled above the target the next stroke bites deeper than any before, because extra passes of a
 *    stroke that is too weak add little. Where nothing deeper is left, everything stays open.
 * Common practice, both.
 */
export function openChoices(history: History, prospects: readonly RoundProspect[]): readonly RoundProspect[] {
  const { machine, rounds } = history;
  const spent = rounds.reduce((sum, round) => sum + minutesPerSquareMetreOf(round.settings), 0);
  const affordable = prospects.filter(({ settings }) => minutesPerSquareMetreOf(settings) <= MOST_STAKE * spent);
  if (rounds.length > 0 && affordable.length > 0) prospects = affordable;
  const wide = hasTriedSlowestFullWidth(history)
    ? prospects
    : prospects.filter(({ settings }) => settings.scanWidthMm >= machine.scanWidthMm.max);
  const latest = rounds.at(-1);
  if (latest === undefined || !hasStalled(latest)) return wide;
  if (readTarget(latest, history.target.residueFractionMax) !== 'not met') return wide;
  const deepest = Math.max(...rounds.map(({ settings }) => lineEnergy(settings)));
  const deeper = wide.filter(({ settings }) => lineEnergy(settings) >= DEEPER * deepest);
  return deeper.length > 0 ? deeper : wide;
}

const strokeSpeed = (settings: Settings): number => settings.scanWidthMm * settings.scanFrequencyHz;
const slowestFullWidth = (machine: Machine): number => machine.scanWidthMm.max * machine.scanFrequencyHz.min;
/** Proportional to fluence per stroke on one machine. */
const lineEnergy = (settings: Settings): number => settings.powerW / strokeSpeed(settings);
