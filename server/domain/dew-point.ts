import { MAGNUS_RANGE_C } from './readings.ts';

/** Magnus constants over water. Source: [WMO8] (after Sonntag 1990): e = 6.112 hPa exp(17.62 T / (243.12 + T)). */
const SLOPE = 17.62;
const OFFSET_C = 243.12;

/**
 * Temperature at which the water in the air begins to condense.
 * Source: [WMO8], Magnus formula, air temperature -45 to 60 C. Other published constants ([ALDUCHOV1996]) move it by 0.006 C
 * at most in the range of painting work.
 *
 * @param airTemperatureC dry-bulb temperature, C
 * @param relativeHumidity share of saturation over water, above 0 to 1
 * @throws RangeError outside these ranges
 */
export function dewPointC(airTemperatureC: number, relativeHumidity: number): number {
  if (!(airTemperatureC >= MAGNUS_RANGE_C.least && airTemperatureC <= MAGNUS_RANGE_C.most)) {
    throw new RangeError(`Expected an air temperature of -45 to 60 C but received ${airTemperatureC}`);
  }
  if (!(relativeHumidity > 0 && relativeHumidity <= 1)) {
    throw new RangeError(`Expected a relative humidity above 0, up to 1, but received ${relativeHumidity}`);
  }
  const g = Math.log(relativeHumidity) + (SLOPE * airTemperatureC) / (OFFSET_C + airTemperatureC);
  return (OFFSET_C * g) / (SLOPE - g);
}
