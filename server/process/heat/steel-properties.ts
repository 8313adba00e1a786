/**
 * Heat properties of unalloyed structural steel. The models of this room take them as constant; between 20 and 600 C the
 * diffusivity in truth falls from 15 to 6 mm2/s, so constant values overstate cooling when hot.
 */
export interface HeatProperties {
  readonly conductivityWPerMK: number;
  readonly diffusivityMm2PerS: number;
}

/** Mild steel near room temperature. Source: [EN1993-1-2] (conductivity from memory); used for the check values. */
export const MILD_STEEL: HeatProperties = { conductivityWPerMK: 53, diffusivityMm2PerS: 13.9 };

/** Share of the beam near 1.07 um that a cleaned, oxidised steel surface takes up. Common practice 0.3-0.5; not measured here. */
export const STEEL_ABSORPTIVITY = 0.35;

/** Share taken up over a whole round, rust included, for bulk warming: the careful end. Common practice. */
export const RUSTY_ABSORPTIVITY = 0.5;

/** Room temperature, the start of every rise (degrees Celsius). */
export const AMBIENT_CELSIUS = 20;

/** Solidus of mild steel EN 1.0213 (degrees Celsius), from a supplier's data sheet. */
export const SOLIDUS_CELSIUS = 1430;

/**
 * Specific heat of carbon steel, J/(kg K): 425 + 0.773 T - 1.69e-3 T2 + 2.22e-6 T3, T 20..600 degrees Celsius.
 * Source: [EN1993-1-2].
 *
 * @throws RangeError outside 20..600 degrees Celsius
 */
export function specificHeatJPerKgK(celsius: number): number {
  if (!(celsius >= 20 && celsius <= 600)) {
    throw new RangeError(`Expected 20..600 degrees Celsius but received ${celsius}`);
  }
  return 425 + 0.773 * celsius - 1.69e-3 * celsius ** 2 + 2.22e-6 * celsius ** 3;
}

/** Volume heat capacity, k / alpha, J/(m3 K). */
export const volumeHeatCapacityJPerM3K = (steel: HeatProperties): number =>
  steel.conductivityWPerMK / (steel.diffusivityMm2PerS * 1e-6);
