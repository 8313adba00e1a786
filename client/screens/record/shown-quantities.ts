import { US_UNITS, US_UNIT_OF_FIELD, readNumbers } from '@domain/us-customary.ts';
import type { ConvertibleField } from '@domain/us-customary.ts';
import type { Readings } from '@domain/readings.ts';
import type { UnitSystem } from '../../units/shown-units.ts';

/** Fields of the form that can be typed in either system, by the field of the reading that they fill. */
export const QUANTITY_FIELDS = {
  airTemperature: 'airTemperatureC',
  surfaceTemperature: 'surfaceTemperatureC',
  profileReadings: 'readingsUm',
  saltsPatch: 'patchAreaMm2',
} as const satisfies Record<string, ConvertibleField>;
export type QuantityName = keyof typeof QUANTITY_FIELDS;

const METRIC_UNITS = {
  airTemperatureC: '°C',
  surfaceTemperatureC: '°C',
  readingsUm: 'µm',
  patchAreaMm2: 'mm²',
} as const;

/** A kept quantity as its field shows it. Left as it is shown, it stays what was kept, digit for digit. */
export interface ShownQuantity {
  readonly text: string;
  /** In the record's own unit; empty where nothing is kept. */
  readonly values: readonly number[];
  /** What was typed when it was kept, with its unit, where that was another one. */
  readonly typed: string | undefined;
}

export const quantityUnit = (name: QuantityName, system: UnitSystem): string =>
  (system === 'inches' ? US_UNIT_OF_FIELD : METRIC_UNITS)[QUANTITY_FIELDS[name]];

/** More digits than any gauge has; conversions of round numbers come out round. */
const DECIMALS = 4;

const inSystem = (name: QuantityName, metric: number, system: UnitSystem): number =>
  system === 'inches' ? US_UNITS[US_UNIT_OF_FIELD[QUANTITY_FIELDS[name]]].fromMetric(metric) : metric;

const textOf = (name: QuantityName, values: readonly number[], system: UnitSystem): string =>
  values.map((value) => Number(inSystem(name, value, system).toFixed(DECIMALS))).join(' ');

/** Usual patch and its water. Source: [ISO8502-6], from memory. */
export const USUAL_SALTS = { waterVolumeMl: 15, patchAreaMm2: 1250 } as const;

/** How the kept readings stand in the form, in one system of units. */
export function shownQuantities(readings: Readings, system: UnitSystem): Record<QuantityName, ShownQuantity> {
  const { climate, surfaceProfile, solubleSalts } = readings;
  const profile = surfaceProfile?.value;
  const shown = (name: QuantityName, values: readonly number[], typedOf: { typed?: Typed } | null): ShownQuantity => {
    const typed = typedOf?.typed?.[QUANTITY_FIELDS[name]];
    const isAsTyped = typed !== undefined && system === 'inches';
    const unit = US_UNIT_OF_FIELD[QUANTITY_FIELDS[name]];
    return { text: isAsTyped ? typed.slice(0, -unit.length - 1) : textOf(name, values, system), values, typed };
  };
  const list = (value: number | undefined): number[] => (value === undefined ? [] : [value]);
  return {
    airTemperature: shown('airTemperature', list(climate?.value.airTemperatureC), climate),
    surfaceTemperature: shown('surfaceTemperature', list(climate?.value.surfaceTemperatureC), climate),
    profileReadings: shown(
      'profileReadings',
      profile === undefined || profile.method === 'comparator' ? [] : profile.readingsUm,
      surfaceProfile,
    ),
    saltsPatch: shown('saltsPatch', [solubleSalts?.value.patchAreaMm2 ?? USUAL_SALTS.patchAreaMm2], solubleSalts),
  };
}
type Typed = Readonly<Record<string, string>> | undefined;

/** A typed text in the other system of units; one that is no number stays as it is. */
export function convertText(name: QuantityName, text: string, to: UnitSystem): string {
  const numbers = readNumbers(text);
  if (!numbers.every((number) => typeof number === 'number')) return text;
  const { toMetric } = US_UNITS[US_UNIT_OF_FIELD[QUANTITY_FIELDS[name]]];
  const metric = to === 'inches' ? numbers : numbers.map(toMetric);
  return textOf(name, metric, to);
}
