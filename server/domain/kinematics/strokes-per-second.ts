import type { Machine } from '../machine.ts';
import type { Settings } from '../settings.ts';
import { hertz, type Hertz } from '../units.ts';

/**
 * Single sweeps of the spot in a second. Exact where the machine's `strokesPerCycle` is right: 2 when its hertz counts
 * to-and-fro cycles, 1 when it counts strokes; taking the wrong one is a factor of two in speed, pitch and dwell.
 * Settings are positive. Source: arithmetic.
 */
export const strokesPerSecond = (
  settings: Pick<Settings, 'scanFrequencyHz'>,
  machine: Pick<Machine, 'strokesPerCycle'>,
): Hertz => hertz(settings.scanFrequencyHz * machine.strokesPerCycle);
