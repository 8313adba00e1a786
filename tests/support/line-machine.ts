import { machineSchema, settingsSchema, type Machine, type Settings } from '../../server/domain/index.ts';

/** A made-up hand-held line machine of a common size. */
export const LINE_MACHINE: Machine = machineSchema.parse({
  powerW: { min: 300, max: 2000 },
  scanWidthMm: { min: 20, max: 300 },
  scanFrequencyHz: { min: 10, max: 200 },
  travelSpeedMmPerS: { min: 2, max: 60 },
  strokesPerCycle: 2,
  spotDiameterMm: 0.6,
  maxPasses: 10,
});

export const settingsOf = (numbers: {
  powerW?: number;
  scanWidthMm?: number;
  scanFrequencyHz?: number;
  travelSpeedMmPerS?: number;
  passes?: number;
}): Settings => settingsSchema.parse({ ...CHECK_EXAMPLE, ...numbers });

/** The worked example of the check values: 1500 W, 0.6 mm, 100 mm, 100 Hz in cycles, 10 mm/s, one pass. */
export const CHECK_EXAMPLE = {
  powerW: 1500,
  scanWidthMm: 100,
  scanFrequencyHz: 100,
  travelSpeedMmPerS: 10,
  passes: 1,
};
