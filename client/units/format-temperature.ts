import { US_UNITS } from '@domain/us-customary.ts';
import type { UnitSystem } from './shown-units.ts';

/** A temperature to a tenth of a degree, as instruments show it. */
export const formatTemperature = (celsius: number, system: UnitSystem): string =>
  system === 'inches' ? `${US_UNITS['°F'].fromMetric(celsius).toFixed(1)} °F` : `${celsius.toFixed(1)} °C`;

/** A difference of temperatures: 1 C is 1.8 F, with no offset. */
export const formatStep = (kelvin: number, system: UnitSystem): string =>
  system === 'inches' ? `${(kelvin * 1.8).toFixed(1)} °F` : `${kelvin.toFixed(1)} °C`;
