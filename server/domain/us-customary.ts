import { readNumber } from './read-number.ts';

/** A unit in which readings may be typed instead of the record's own: conversions are exact. */
interface TypedUnit {
  readonly toMetric: (typed: number) => number;
  readonly fromMetric: (metric: number) => number;
}

/** Source: [NISTSP811], appendix B.8 and B.9: 1 in = 25.4 mm, 1 mil = 0.001 in, t/C = (t/F - 32) / 1.8, all exact. */
export const US_UNITS = {
  '°F': { toMetric: (f) => ((f - 32) * 5) / 9, fromMetric: (c) => (c * 9) / 5 + 32 },
  mil: { toMetric: (mil) => mil * 25.4, fromMetric: (micrometres) => micrometres / 25.4 },
  'in²': { toMetric: (squareInches) => squareInches * 645.16, fromMetric: (squareMm) => squareMm / 645.16 },
} as const satisfies Record<string, TypedUnit>;
export type UsUnit = keyof typeof US_UNITS;

/** Fields of readings that may be typed in a US customary unit, and in which. */
export const US_UNIT_OF_FIELD = {
  airTemperatureC: '°F',
  surfaceTemperatureC: '°F',
  readingsUm: 'mil',
  patchAreaMm2: 'in²',
} as const satisfies Record<string, UsUnit>;
export type ConvertibleField = keyof typeof US_UNIT_OF_FIELD;

/** Numbers as people write them side by side: with spaces or semicolons between, a comma at the end of one too. */
export const readNumbers = (text: string): (number | null | undefined)[] =>
  text
    .split(/[\s;]+/)
    .map((part) => part.replace(/,$/, ''))
    .filter((part) => part !== '')
    .map(readNumber);

/** What a text such as "68,5 °F" or "2.5 3.1 mil" says in the record's own unit; null where it is no such text. */
export function metricOfTyped(field: ConvertibleField, text: string): number[] | null {
  const unit = US_UNIT_OF_FIELD[field];
  if (!text.endsWith(` ${unit}`)) return null;
  const numbers = readNumbers(text.slice(0, -unit.length));
  if (numbers.length === 0 || !numbers.every((number) => typeof number === 'number')) return null;
  return numbers.map(US_UNITS[unit].toMetric);
}
