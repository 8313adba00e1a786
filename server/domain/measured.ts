import { z } from 'zod';

/** JSON numbers of the project are finite: NaN and Infinity never leave or enter it (zod 4 refuses both). */
export const finiteNumber = z.number();

export const INTERVAL_COVERAGE = 0.95;

/**
 * A measured value with the interval that holds the true value with probability `coverage` (nominal).
 * Invariant: low <= value <= high. Shares are 0..1.
 */
export const measuredSchema = z
  .object({ value: finiteNumber, low: finiteNumber, high: finiteNumber, coverage: z.literal(INTERVAL_COVERAGE) })
  .refine((m) => m.low <= m.value && m.value <= m.high, 'expected low <= value <= high');
export type Measured = z.infer<typeof measuredSchema>;

/** Builds a measured value; a bound that rounding put on the wrong side of the value is moved onto it. */
export function measured(value: number, low: number, high: number): Measured {
  if (![value, low, high].every(Number.isFinite)) {
    throw new RangeError(`Expected finite value and bounds but received ${value} [${low}, ${high}]`);
  }
  return { value, low: Math.min(low, value), high: Math.max(high, value), coverage: INTERVAL_COVERAGE };
}

/** As {@link measured}, with value and bounds kept inside 0..1. */
export function measuredShare(value: number, low: number, high: number): Measured {
  const clamp = (x: number): number => Math.min(1, Math.max(0, x));
  return measured(clamp(value), clamp(low), clamp(high));
}
