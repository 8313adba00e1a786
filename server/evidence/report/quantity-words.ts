import type { Measured } from '../../domain/index.ts';

export type UnitSystem = 'metric' | 'inch';

const MM_PER_INCH = 25.4;
const SQUARE_MM_PER_SQUARE_FOOT = (12 * MM_PER_INCH) ** 2;
const SQUARE_FEET_PER_SQUARE_METRE = 1e6 / SQUARE_MM_PER_SQUARE_FOOT;

/** Numbers with their units as the report prints them. Inches, mils and feet are exact conversions (1 inch = 25.4 mm). */
export interface QuantityWords {
  readonly length: (mm: number) => string;
  readonly area: (squareMm: number) => string;
  readonly speed: (mmPerS: number) => string;
  readonly profile: (micrometres: number) => string;
  readonly temperature: (celsius: number) => string;
  readonly temperatureStep: (kelvin: number) => string;
  readonly timePerArea: (minutesPerSquareMetre: number) => string;
}

const METRIC: QuantityWords = {
  length: (mm) => `${trimmed(mm, mm < 10 ? 1 : 0)} mm`,
  area: (squareMm) =>
    squareMm < 1000
      ? `${trimmed(squareMm, 0)} mm²`
      : squareMm < 100_000
        ? `${trimmed(squareMm / 100, 0)} cm²`
        : `${(squareMm / 1e6).toFixed(3)} m²`,
  speed: (mmPerS) => `${trimmed(mmPerS, 1)} mm/s`,
  profile: (micrometres) => `${micrometres.toFixed(0)} µm`,
  temperature: (celsius) => `${celsius.toFixed(1)} °C`,
  temperatureStep: (kelvin) => `${trimmed(kelvin, 1)} °C`,
  timePerArea: (minutes) => `${minutes.toFixed(1)} min/m²`,
};

const INCH: QuantityWords = {
  // To a thousandth below an inch: a hundredth is as wide as the interval of a pitch.
  length: (mm) => `${(mm / MM_PER_INCH).toFixed(mm < MM_PER_INCH ? 3 : 2)} in`,
  area: (squareMm) =>
    squareMm < SQUARE_MM_PER_SQUARE_FOOT
      ? `${(squareMm / MM_PER_INCH ** 2).toFixed(1)} in²`
      : `${(squareMm / SQUARE_MM_PER_SQUARE_FOOT).toFixed(2)} ft²`,
  speed: (mmPerS) => `${(mmPerS / MM_PER_INCH).toFixed(2)} in/s`,
  profile: (micrometres) => `${(micrometres / MM_PER_INCH).toFixed(1)} mil`,
  temperature: (celsius) => `${(32 + 1.8 * celsius).toFixed(1)} °F`,
  temperatureStep: (kelvin) => `${trimmed(1.8 * kelvin, 1)} °F`,
  timePerArea: (minutes) => `${(minutes / SQUARE_FEET_PER_SQUARE_METRE).toFixed(2)} min/ft²`,
};

export const quantityWords = (units: UnitSystem): QuantityWords => (units === 'metric' ? METRIC : INCH);

export const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;
export const percentRange = ({ low, high }: Pick<Measured, 'low' | 'high'>): string =>
  `${(100 * low).toFixed(1)} to ${(100 * high).toFixed(1)} %`;
export const percentWithRange = (m: Measured): string =>
  `${(100 * m.value).toFixed(1)} % (${(100 * m.low).toFixed(1)} to ${(100 * m.high).toFixed(1)})`;

/** Fixed digits without trailing zeros. */
export const trimmed = (value: number, digits: number): string => String(Number(value.toFixed(digits)));

/** "25 Nov 2026, 09:30 UTC": the moment as written in the record, without the reader's time zone. */
export function momentWords(instant: string): string {
  const [, year, month, day, hour, minute] = /^(\d{4})-(\d\d)-(\d\d)T(\d\d):(\d\d)/.exec(instant) ?? [];
  return `${dayWords(`${year}-${month}-${day}`)}, ${hour}:${minute} UTC`;
}

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

export function dayWords(day: string): string {
  const [year, month, date] = day.split('-').map(Number);
  return `${date} ${MONTHS[month - 1]} ${year}`;
}
