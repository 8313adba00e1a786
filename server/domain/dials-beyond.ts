import type { Machine } from './machine.ts';
import type { Settings } from './settings.ts';

const DIALS = ['powerW', 'scanWidthMm', 'scanFrequencyHz', 'travelSpeedMmPerS'] as const;

/** A dial that a machine cannot be set to, with the range that it has. */
export interface DialBeyond {
  readonly dial: (typeof DIALS)[number];
  readonly set: number;
  readonly min: number;
  readonly max: number;
}

/** Dials that lie beyond what a machine can be set to. @param slack part of a limit that rounding may go beyond it */
export const dialsBeyond = (settings: Settings, machine: Machine, slack = 0): DialBeyond[] =>
  DIALS.map((dial) => ({ dial, set: settings[dial], ...machine[dial] })).filter(
    ({ set, min, max }) => set < min * (1 - slack) || set > max * (1 + slack),
  );

export const hasTooManyPasses = (settings: Settings, machine: Machine): boolean => settings.passes > machine.maxPasses;
