import { type Machine } from '../../domain/index.ts';

/** How a stroke is made: everything of the settings but travel and passes. */
export interface StrokeOption {
  readonly powerW: number;
  readonly scanWidthMm: number;
  readonly scanFrequencyHz: number;
}

/** Steps of frequency and of width: fine where a round is chosen, coarse where whole courses of work are estimated. */
export const CHOICE_STEPS = 12;
export const CURVE_STEPS = 8;

/**
 * Strokes worth weighing, from gentle to deep: at full width every frequency down to the lowest, and only below that
 * narrower lines, since at equal stroke speed the wider line never takes longer (common practice: width saves time).
 * Power is the most the machine has, because power sets the minutes.
 */
export function strokeOptions(machine: Machine, steps: number): StrokeOption[] {
  const powerW = machine.powerW.max;
  const widths = ladder(machine.scanWidthMm.max, machine.scanWidthMm.min, steps);
  const frequencies = ladder(machine.scanFrequencyHz.max, machine.scanFrequencyHz.min, steps);
  return [
    ...frequencies.map((scanFrequencyHz) => ({ powerW, scanWidthMm: machine.scanWidthMm.max, scanFrequencyHz })),
    ...widths.slice(1).map((scanWidthMm) => ({ powerW, scanWidthMm, scanFrequencyHz: machine.scanFrequencyHz.min })),
  ];
}

/** Equal ratios from one end to the other; a single value where the ends meet. */
export function ladder(from: number, to: number, steps: number): number[] {
  if (from === to) return [from];
  return Array.from({ length: steps }, (_, step) => from * (to / from) ** (step / (steps - 1)));
}

/**
 * Fewest strokes that cross a point in one pass, on average: the mean pitch stays well under the spot even when the hand
 * is a fifth too fast, and what opens at the ends of the zig-zag is small enough for the overlap of swaths to close.
 */
const LEAST_STROKES_SEEN = 1.4;

/** Fastest travel that still covers the metal with this stroke, where the machine allows it. */
export function fastestCoveringTravel(option: StrokeOption, machine: Machine): number {
  const strokesPerSecond = option.scanFrequencyHz * machine.strokesPerCycle;
  const covering = (machine.spotDiameterMm * strokesPerSecond) / LEAST_STROKES_SEEN;
  return Math.min(machine.travelSpeedMmPerS.max, Math.max(machine.travelSpeedMmPerS.min, covering));
}

/** Pace that a hand keeps evenly; below it extra passes are preferred to creeping. Common practice. */
const STEADY_TRAVEL_MM_PER_S = 5;

/** Travel and passes that bring an areal energy with this stroke: one pass where the hand can keep the pace. */
export function travelAndPasses(
  option: StrokeOption,
  machine: Machine,
  energyJPerCm2: number,
): { travelSpeedMmPerS: number; passes: number } {
  const fastest = fastestCoveringTravel(option, machine);
  const steady = Math.min(fastest, Math.max(STEADY_TRAVEL_MM_PER_S, machine.travelSpeedMmPerS.min));
  const travelOfOnePass = (100 * option.powerW) / (option.scanWidthMm * energyJPerCm2);
  const passes = Math.min(machine.maxPasses, Math.max(1, Math.ceil(steady / travelOfOnePass)));
  const travelSpeedMmPerS = Math.max(machine.travelSpeedMmPerS.min, Math.min(fastest, passes * travelOfOnePass));
  return { travelSpeedMmPerS, passes };
}
