import type { Measured } from '@domain/measured.ts';
import type { Shop } from '@domain/api/shop.ts';

export type UnitSystem = Shop['units'];

/** Exact by definition. Source: [NISTSP811], appendix B.8 (international inch and foot). */
export const MM_PER_INCH = 25.4;
export const SQUARE_METRES_PER_SQUARE_FOOT = 0.09290304;

/** Digits that suit a value: three significant ones, never more than the unit's own most. */
function digitsFor(value: number, mostDecimals: number): number {
  const magnitude = value === 0 ? 0 : Math.floor(Math.log10(Math.abs(value)));
  return Math.max(0, Math.min(mostDecimals, 2 - magnitude));
}

export function formatNumber(value: number, mostDecimals: number): string {
  return value.toLocaleString('en', {
    minimumFractionDigits: 0,
    maximumFractionDigits: digitsFor(value, mostDecimals),
    useGrouping: false,
  });
}

/** A share 0..1 in percent: a decimal below 10 %, and "under 0.1" instead of a nought that would claim perfection. */
export function formatShare(share: number): string {
  return `${percentDigits(share)} %`;
}

export function formatShareInterval({ low, high }: Pick<Measured, 'low' | 'high'>): string {
  return `${percentDigits(low)} to ${percentDigits(high)} %`;
}

function percentDigits(share: number): string {
  const percent = share * 100;
  if (percent === 0) return '0';
  if (percent < 0.1) return '<0.1';
  return percent.toFixed(percent < 9.95 ? 1 : 0);
}

/** Shows lengths, speeds, areas and work rates in the shop's units; stored values stay millimetres and square metres. */
export interface ShownUnits {
  readonly system: UnitSystem;
  readonly lengthUnit: 'mm' | 'in';
  readonly speedUnit: 'mm/s' | 'in/s';
  readonly areaUnit: 'm²' | 'ft²';
  readonly rateUnit: 'min/m²' | 'min/ft²';
  lengthOf(millimetres: number): number;
  areaOf(squareMetres: number): number;
  rateOf(minutesPerSquareMetre: number): number;
  millimetresOf(shownLength: number): number;
  squareMetresOf(shownArea: number): number;
  length(millimetres: number): string;
  /** With a digit more where that is not the finest yet, for what is compared with the width of a spot. */
  fineLength(millimetres: number): string;
  speed(millimetresPerSecond: number): string;
  area(squareMetres: number): string;
  rate(minutesPerSquareMetre: number): string;
  lengthInterval(measured: Measured): string;
}

export function shownUnits(system: UnitSystem): ShownUnits {
  const isInches = system === 'inches';
  const perLength = isInches ? 1 / MM_PER_INCH : 1;
  const perArea = isInches ? 1 / SQUARE_METRES_PER_SQUARE_FOOT : 1;
  const lengthUnit = isInches ? 'in' : 'mm';
  const areaUnit = isInches ? 'ft²' : 'm²';
  // A thousandth of an inch is the finest that is told.
  const [decimals, fineDecimals, speedDecimals] = isInches ? [3, 3, 2] : [1, 2, 1];
  const length = (mm: number): string => formatNumber(mm * perLength, decimals);
  return {
    system,
    lengthUnit,
    speedUnit: `${lengthUnit}/s`,
    areaUnit,
    rateUnit: `min/${areaUnit}`,
    lengthOf: (mm) => mm * perLength,
    areaOf: (m2) => m2 * perArea,
    rateOf: (minutes) => minutes / perArea,
    millimetresOf: (shown) => shown / perLength,
    squareMetresOf: (shown) => shown / perArea,
    length: (mm) => `${length(mm)} ${lengthUnit}`,
    fineLength: (mm) => `${formatNumber(mm * perLength, fineDecimals)} ${lengthUnit}`,
    speed: (mmPerS) => `${formatNumber(mmPerS * perLength, speedDecimals)} ${lengthUnit}/s`,
    area: (m2) => `${formatNumber(m2 * perArea, 2)} ${areaUnit}`,
    rate: (minutes) => `${formatNumber(minutes / perArea, 2)} min/${areaUnit}`,
    lengthInterval: ({ low, high }) => `${length(low)} to ${length(high)} ${lengthUnit}`,
  };
}
