import { kelvinRise, type KelvinRise, type Seconds } from '../../domain/index.ts';
import { type HeatProperties } from './steel-properties.ts';

/**
 * Surface temperature rise of a half space under a constant, even flux: (2 A I / k) sqrt(alpha t / pi).
 * `irradianceKwPerCm2` >= 0, `time` >= 0. Holds while the heated depth sqrt(4 alpha t) is small against the spot and the
 * plate, and below melting; it leaves out the scale's own resistance. Source: [CARSLAW1959], section 2.9.
 */
export function halfSpaceTemperatureRise(
  irradianceKwPerCm2: number,
  time: Seconds,
  absorptivity: number,
  steel: HeatProperties,
): KelvinRise {
  const fluxWPerM2 = absorptivity * irradianceKwPerCm2 * 1e7;
  const depthM = Math.sqrt((steel.diffusivityMm2PerS * 1e-6 * time) / Math.PI);
  return kelvinRise((2 * fluxWPerM2 * depthM) / steel.conductivityWPerMK);
}

/** Depth that heat reaches in a time, sqrt(4 alpha t), in millimetres. Source: [CARSLAW1959]. */
export const heatDiffusionLengthMm = (time: Seconds, steel: HeatProperties): number =>
  Math.sqrt(4 * steel.diffusivityMm2PerS * time);
