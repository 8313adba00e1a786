import type { Machine } from '../machine.ts';
import type { Settings } from '../settings.ts';
import { scanSpeed } from '../kinematics/scan-speed.ts';

const MILLIMETRES_PER_METRE = 1000;

/** Energy laid along a stroke, P / v (J per metre of stroke). Source: arithmetic. */
export const lineEnergyJPerM = (
  settings: Pick<Settings, 'powerW' | 'scanWidthMm' | 'scanFrequencyHz'>,
  machine: Pick<Machine, 'strokesPerCycle'>,
): number => (settings.powerW * MILLIMETRES_PER_METRE) / scanSpeed(settings, machine);
