import type { Machine } from '../machine.ts';
import type { Settings } from '../settings.ts';
import { joulesPerSquareCentimetre, type JoulesPerSquareCentimetre } from '../units.ts';
import { scanSpeed } from '../kinematics/scan-speed.ts';

type Sweep = Pick<Settings, 'powerW' | 'scanWidthMm' | 'scanFrequencyHz'>;
type Optics = Pick<Machine, 'strokesPerCycle' | 'spotDiameterMm'>;

const SQUARE_MILLIMETRES_PER_SQUARE_CENTIMETRE = 100;

/**
 * Energy per area of one stroke, spread evenly over a band one spot wide: P / (d v). The usual single number; a real
 * beam peaks above it, see {@link gaussianPeakFluence}. Source: arithmetic.
 */
export const strokeFluence = (settings: Sweep, machine: Optics): JoulesPerSquareCentimetre =>
  joulesPerSquareCentimetre(
    (SQUARE_MILLIMETRES_PER_SQUARE_CENTIMETRE * settings.powerW) /
      (machine.spotDiameterMm * scanSpeed(settings, machine)),
  );

/**
 * Energy per area on the axis of one stroke of a Gaussian beam whose 1/e2 diameter is the spot diameter:
 * sqrt(8 / pi) = 1.596 times the even value. Source: the Gaussian integrated along the stroke.
 */
export const gaussianPeakFluence = (settings: Sweep, machine: Optics): JoulesPerSquareCentimetre =>
  joulesPerSquareCentimetre(Math.sqrt(8 / Math.PI) * strokeFluence(settings, machine));
