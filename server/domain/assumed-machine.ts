import type { Machine } from './machine.ts';
import { machineSchema } from './machine.ts';
import type { Settings } from './settings.ts';

/**
 * A hand-held line machine in usual dial ranges, when nobody described the real one: widened to hold the settings that were
 * used, and never stronger than the power that was set. Ranges: common practice for continuous-wave cleaning machines.
 */
export function assumedMachine(settings: Settings): Machine {
  const around = (value: number, min: number, max: number): { min: number; max: number } => ({
    min: Math.min(min, value),
    max: Math.max(max, value),
  });
  return machineSchema.parse({
    powerW: { min: Math.min(settings.powerW, 300), max: settings.powerW },
    scanWidthMm: around(settings.scanWidthMm, 20, 300),
    scanFrequencyHz: around(settings.scanFrequencyHz, 10, 200),
    travelSpeedMmPerS: around(settings.travelSpeedMmPerS, 2, 100),
    strokesPerCycle: 2,
    spotDiameterMm: 2,
    maxPasses: Math.max(settings.passes, 10),
  });
}
