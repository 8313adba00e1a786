import { kelvinRise, type JoulesPerSquareCentimetre, type KelvinRise } from '../../domain/index.ts';
import { type HeatProperties, volumeHeatCapacityJPerM3K } from './steel-properties.ts';

/**
 * Rise of the whole plate if nothing escapes: A E / (rho c h). `thicknessMm` > 0. An upper bound for one round: in truth
 * air, sound metal around the zone and pauses between passes take heat away. Source: heat balance.
 */
export const bulkTemperatureRise = (
  energy: JoulesPerSquareCentimetre,
  thicknessMm: number,
  absorptivity: number,
  steel: HeatProperties,
): KelvinRise => kelvinRise((absorptivity * energy * 1e4) / (volumeHeatCapacityJPerM3K(steel) * thicknessMm * 1e-3));
