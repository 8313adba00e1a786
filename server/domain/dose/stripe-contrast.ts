import { type DoseGrid } from './lay-strokes.ts';

/** Part of a column's cells that count as its barest, and as its least bare. */
const TAIL = 0.1;

/**
 * Difference between the least bare and the barest tenth of the cells along the travel, averaged over the columns: how
 * strongly stripes should show, 0..1.
 */
export function stripeContrast(residue: Float64Array, { rows, columns }: DoseGrid): number {
  const tail = Math.max(1, Math.floor(TAIL * rows));
  const mean = (values: Float64Array): number => values.reduce((a, b) => a + b, 0) / values.length;
  let sum = 0;
  for (let column = 0; column < columns; column++) {
    const along = Float64Array.from({ length: rows }, (_, row) => residue[row * columns + column]).sort();
    sum += mean(along.subarray(rows - tail)) - mean(along.subarray(0, tail));
  }
  return Math.min(1, Math.max(0, sum / columns));
}
