import type { Machine } from '../machine.ts';
import type { Settings } from '../settings.ts';
import { seconds, type Seconds } from '../units.ts';
import { scanSpeed } from './scan-speed.ts';

/** Time the spot takes to pass over a point in one stroke: spot diameter over scan speed. Source: arithmetic. */
export const dwellTime = (
  settings: Pick<Settings, 'scanWidthMm' | 'scanFrequencyHz'>,
  machine: Pick<Machine, 'strokesPerCycle' | 'spotDiameterMm'>,
): Seconds => seconds(machine.spotDiameterMm / scanSpeed(settings, machine));
