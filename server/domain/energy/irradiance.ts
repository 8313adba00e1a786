import type { Machine } from '../machine.ts';
import type { Settings } from '../settings.ts';

const SQUARE_MILLIMETRES_PER_SQUARE_CENTIMETRE = 100;
const WATTS_PER_KILOWATT = 1000;

type Beam = readonly [settings: Pick<Settings, 'powerW'>, machine: Pick<Machine, 'spotDiameterMm'>];

/** Mean power per area of the spot, 4 P / (pi d2), in kW/cm2. Source: arithmetic. */
export const meanIrradianceKwPerCm2 = (...[settings, machine]: Beam): number =>
  ((4 * settings.powerW) / (Math.PI * machine.spotDiameterMm ** 2)) *
  (SQUARE_MILLIMETRES_PER_SQUARE_CENTIMETRE / WATTS_PER_KILOWATT);

/** Power per area on the axis of a Gaussian beam of that 1/e2 diameter: twice the mean, in kW/cm2. Source: the Gaussian. */
export const peakIrradianceKwPerCm2 = (...beam: Beam): number => 2 * meanIrradianceKwPerCm2(...beam);
