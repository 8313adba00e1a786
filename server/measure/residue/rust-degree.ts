import type { Fraction } from '../../domain/index.ts';

/**
 * Degrees of rusting that other standards give to a rusted share. Both are written for coated steel and say so; for bare
 * steel they are outside their scope, so this is offered as "equivalent rusted area" and nothing more.
 */

/** Largest rusted area of each grade from 10 down to 1, as shares. Source: [ASTM-D610], table 1. */
const D610_UP_TO: readonly (readonly [grade: number, mostShare: number])[] = [
  [10, 0.0001],
  [9, 0.0003],
  [8, 0.001],
  [7, 0.003],
  [6, 0.01],
  [5, 0.03],
  [4, 0.1],
  [3, 0.16],
  [2, 0.33],
  [1, 0.5],
];
/** Shares that come from percent carry rounding of the last bit. */
const ROUNDING = 1 + 1e-9;

/** Grade of the table, 10 (hardly any) to 0 (more than half). Source: [ASTM-D610], table 1. */
export const d610Grade = (rusted: Fraction): number =>
  D610_UP_TO.find(([, most]) => rusted <= most * ROUNDING)?.[0] ?? 0;

/** Where the continuous line runs along the table. */
const LINE = { least: 0.0001, most: 0.1 };

/**
 * The line through the table, 6 - 2 log10(percent), for drawing a trend between grades; it is not printed in the standard
 * and leaves the table above 10 %. Null outside 0.01 to 10 %. Source: derived from [ASTM-D610], table 1.
 */
export function d610ContinuousGrade(rusted: Fraction): number | null {
  if (rusted * ROUNDING < LINE.least || rusted > LINE.most * ROUNDING) return null;
  return 6 - 2 * Math.log10(100 * rusted);
}

/**
 * Rusted share of the standard's picture for each degree; pictures to compare with, not class limits. From memory: the
 * last picture is said to show 40 to 50 %. Source: [ISO4628-3], memory.
 */
const RI_PICTURES = [0, 0.0005, 0.005, 0.01, 0.08, 0.4] as const;
/** Between nothing and the first picture the middle is half of it; between two pictures it is their geometric mean. */
const nearerToUpper = (share: number, lower: number, upper: number): boolean =>
  share >= (lower === 0 ? upper / 2 : Math.sqrt(lower * upper));

/** Degree Ri 0..5 whose picture value is nearest. Source: [ISO4628-3], picture values from memory. */
export function nearestRiDegree(rusted: Fraction): number {
  let degree = 0;
  while (degree < RI_PICTURES.length - 1 && nearerToUpper(rusted, RI_PICTURES[degree], RI_PICTURES[degree + 1])) {
    degree++;
  }
  return degree;
}
