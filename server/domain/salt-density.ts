import type { SolubleSalts } from './readings.ts';

/**
 * Conductivity of a dilute mixed salt solution: mass concentration = 5 kg m-2 S-1 x conductivity.
 * Source: [ISO8502-9], from memory.
 */
const KILOGRAMS_PER_SQUARE_METRE_SIEMENS = 5;

/**
 * Salts on the surface as the conductometric method states them, mg/m2: concentration times water volume over patch area.
 * With 15 ml and 1250 mm2 it is 6 times the rise in uS/cm. A mixed-salt figure: not chloride alone, not as NaCl.
 * Source: [ISO8502-9], from memory. Holds for dilute extracts at 25 C.
 */
export function saltDensityMgPerM2({ conductivityRiseUsPerCm, waterVolumeMl, patchAreaMm2 }: SolubleSalts): number {
  const conductivitySPerM = conductivityRiseUsPerCm * 1e-4;
  const concentrationKgPerM3 = KILOGRAMS_PER_SQUARE_METRE_SIEMENS * conductivitySPerM;
  const massKg = concentrationKgPerM3 * waterVolumeMl * 1e-6;
  return (massKg / (patchAreaMm2 * 1e-6)) * 1e6;
}
