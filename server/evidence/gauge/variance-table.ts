import type { GaugeResult, VarianceRow } from '../../domain/index.ts';
import type { BalancedLayout } from './balanced-layout.ts';
import { chanceOfLargerF } from './f-distribution.ts';

/** An interaction less certain than this is pooled with the repeatability. Source: [MSA4], ANOVA method, alpha 0.05. */
const INTERACTION_SIGNIFICANCE = 0.05;

export interface VarianceTable {
  readonly rows: GaugeResult['variance'];
  readonly isInteractionPooled: boolean;
  /** Mean square that zones and operators are tested against. */
  readonly pooled: { readonly meanSquare: number; readonly degreesOfFreedom: number };
}

/**
 * Two-way crossed analysis of variance with repeats, zones and operators random. Source: [MSA4], ANOVA method.
 * Zones and operators are tested against the interaction, or against the pooled error where the interaction is dropped.
 */
export function varianceTable({ operators, zones, repeats, values }: BalancedLayout): VarianceTable {
  const [o, z, r] = [operators.length, zones.length, repeats];
  const grand = mean(values.flat(2));
  const squared = (means: readonly number[]): number => means.reduce((sum, m) => sum + (m - grand) ** 2, 0);
  const operatorSum = z * r * squared(values.map((row) => mean(row.flat())));
  const zoneSum = o * r * squared(zones.map((_zone, at) => mean(values.flatMap((row) => row[at]))));
  const cellSum = r * squared(values.flatMap((row) => row.map(mean)));
  const total = squared(values.flat(2));
  const plain = (degrees: number, sum: number): VarianceRow => {
    const sumOfSquares = Math.max(0, sum);
    return { degreesOfFreedom: degrees, sumOfSquares, meanSquare: sumOfSquares / degrees, f: null, p: null };
  };
  const interaction = plain((o - 1) * (z - 1), cellSum - operatorSum - zoneSum);
  const error = plain(o * z * (r - 1), total - cellSum);
  const tested = test(interaction, error);
  const isInteractionPooled = tested.p === null || tested.p > INTERACTION_SIGNIFICANCE;
  const pooled = isInteractionPooled
    ? plain(interaction.degreesOfFreedom + error.degreesOfFreedom, interaction.sumOfSquares + error.sumOfSquares)
    : interaction;
  return {
    rows: {
      zones: test(plain(z - 1, zoneSum), pooled),
      operators: test(plain(o - 1, operatorSum), pooled),
      interaction: tested,
      repeatability: error,
      total: plain(o * z * r - 1, total),
    },
    isInteractionPooled,
    pooled,
  };
}

function test(row: VarianceRow, against: VarianceRow): VarianceRow {
  if (against.meanSquare === 0) return row;
  const f = row.meanSquare / against.meanSquare;
  return { ...row, f, p: chanceOfLargerF(f, row.degreesOfFreedom, against.degreesOfFreedom) };
}

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
