import { dialStepsSchema } from '@domain/api/machines.ts';
import { machineSchema } from '@domain/machine.ts';
import type { MachineDescription } from './machine-form.ts';

/** What a new machine's fields begin with: usual ranges of hand-held continuous-wave cleaning machines. Common practice. */
export const USUAL_MACHINE: MachineDescription = {
  machine: machineSchema.parse({
    powerW: { min: 200, max: 2000 },
    scanWidthMm: { min: 10, max: 150 },
    scanFrequencyHz: { min: 10, max: 150 },
    travelSpeedMmPerS: { min: 2, max: 100 },
    strokesPerCycle: 2,
    spotDiameterMm: 2,
    maxPasses: 10,
  }),
  dialSteps: dialStepsSchema.parse({ powerW: 50, scanWidthMm: 5, scanFrequencyHz: 1, travelSpeedMmPerS: 1 }),
};
