import type { Machine } from '../machine.ts';
import type { Settings } from '../settings.ts';
import { arealEnergy } from '../energy/areal-energy.ts';
import { strokeFluence } from '../energy/stroke-fluence.ts';
import { dwellTime } from '../kinematics/dwell-time.ts';
import { strokesSeenByPoint } from '../kinematics/overlap.ts';

/** What a round sends to the surface, in the terms that the removal model takes. */
export interface RoundDose {
  /** Natural logarithm of the fluence of one stroke, J/cm2. */
  readonly lnFluence: number;
  /** Natural logarithm of dwell over {@link REFERENCE_DWELL_S}. */
  readonly lnDwell: number;
  readonly energyJPerCm2: number;
  /** Strokes that cross a point in one pass, on average. */
  readonly strokesSeen: number;
  readonly passes: number;
}

/** Dwell at which every exponent of the bite gives the plain fluence; the middle of a hand-held line's range. */
export const REFERENCE_DWELL_S = 60e-6;

/** @param speedRatio real over intended travel speed */
export function roundDose(settings: Settings, machine: Machine, speedRatio = 1): RoundDose {
  return {
    lnFluence: Math.log(strokeFluence(settings, machine)),
    lnDwell: Math.log(dwellTime(settings, machine) / REFERENCE_DWELL_S),
    energyJPerCm2: arealEnergy(settings) / speedRatio,
    strokesSeen: strokesSeenByPoint(settings, machine) / speedRatio,
    passes: settings.passes,
  };
}

/**
 * Bite of a stroke, in J/cm2: fluence x (dwell / 60 us)^(exponent - 1). Exponent 1 is fluence per stroke, 0.5 goes with
 * the peak temperature of a half space, I sqrt(t) [CARSLAW1959]; the truth for rust and scale lies somewhere near and is
 * learned. At equal areal energy slower strokes bite deeper for every exponent above 0.
 */
export const strokeBiteJPerCm2 = (
  settings: Pick<Settings, 'powerW' | 'scanWidthMm' | 'scanFrequencyHz'>,
  machine: Pick<Machine, 'strokesPerCycle' | 'spotDiameterMm'>,
  exponent: number,
): number => strokeFluence(settings, machine) * (dwellTime(settings, machine) / REFERENCE_DWELL_S) ** (exponent - 1);
