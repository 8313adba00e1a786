import { hertz, millimetres, millimetresPerSecond, watts, type Machine, type Settings } from '../../domain/index.ts';

/** Steps that an operator can set or keep: the dials of hand-held line machines. Common practice. */
const STEP = { powerW: 5, scanWidthMm: 5, scanFrequencyHz: 1 } as const;
/** Hand speed is paced against a rule: half a millimetre per second below 10 mm/s, whole ones above. Common practice. */
const TRAVEL_STEP = { slow: 0.5, fast: 1, fastFromMmPerS: 10 } as const;

interface Limits {
  readonly min: number;
  readonly max: number;
}

/** Nearest step inside the limits; a limit that lies between two steps may itself be set. */
function onDial(value: number, step: number, { min, max }: Limits): number {
  const rounded = Math.round(Math.round(value / step) * step * 1e6) / 1e6;
  return Math.min(max, Math.max(min, rounded));
}

/** Settings as they can be dialled on the machine, nearest to the wanted ones. */
export function dialledSettings(
  wanted: { powerW: number; scanWidthMm: number; scanFrequencyHz: number; travelSpeedMmPerS: number; passes: number },
  machine: Machine,
): Settings {
  return {
    powerW: watts(onDial(wanted.powerW, STEP.powerW, machine.powerW)),
    scanWidthMm: millimetres(onDial(wanted.scanWidthMm, STEP.scanWidthMm, machine.scanWidthMm)),
    scanFrequencyHz: hertz(onDial(wanted.scanFrequencyHz, STEP.scanFrequencyHz, machine.scanFrequencyHz)),
    travelSpeedMmPerS: millimetresPerSecond(
      onDial(wanted.travelSpeedMmPerS, travelStep(wanted.travelSpeedMmPerS), machine.travelSpeedMmPerS),
    ),
    passes: Math.min(machine.maxPasses, Math.max(1, Math.round(wanted.passes))),
  };
}

const travelStep = (travel: number): number =>
  travel < TRAVEL_STEP.fastFromMmPerS ? TRAVEL_STEP.slow : TRAVEL_STEP.fast;
