import { INTERVAL_COVERAGE } from '../../domain/index.ts';
import type { Measured, Surface, WorstUnitArea } from '../../domain/index.ts';
import { shareInterval } from '../residue/share-interval.ts';

/** Shares of the worst 76 mm squares, one for residue and one for stain, with their intervals. */
export interface WorstSquareShares {
  readonly residue: Measured;
  readonly stain: Measured;
}

const DEVIATIONS_EITHER_WAY = 1.96;
/** No share is better known than this; also stands in for intervals of no width. */
const LEAST_SIGMA = 0.003;
const LEAST_SHARE = 0.002;

/**
 * Intervals for the worst squares, carried over from the zone's. The square's deviation is the zone's, grown with the
 * binomial sqrt(s (1 - s)) where the square holds more of the class. The worst of many squares is picked partly for its
 * errors, so the interval leans to the strict side.
 */
export function worstSquareShares(
  surface: Pick<Surface, 'residue' | 'fractions'>,
  worst: { readonly residue: WorstUnitArea; readonly stain: WorstUnitArea },
): WorstSquareShares {
  return {
    residue: carriedOver(worst.residue.residueFraction, surface.residue),
    stain: carriedOver(worst.stain.stainFraction, surface.fractions.stain),
  };
}

/** Share of residue in the worst square of a measured surface; null where none fits. */
export const worstSquareResidue = ({
  residue,
  worstUnitArea,
}: Pick<Surface, 'residue' | 'worstUnitArea'>): Measured | null =>
  worstUnitArea === null ? null : carriedOver(worstUnitArea.residueFraction, residue);

function carriedOver(share: number, zone: Measured): Measured {
  const zoneSigma = Math.max(LEAST_SIGMA, (zone.high - zone.low) / (2 * DEVIATIONS_EITHER_WAY));
  const growth = Math.sqrt(spreadOf(share) / spreadOf(zone.value));
  return { ...shareInterval(share, zoneSigma * Math.max(1, growth)), coverage: INTERVAL_COVERAGE };
}

const spreadOf = (share: number): number => {
  const inner = Math.min(1 - LEAST_SHARE, Math.max(LEAST_SHARE, share));
  return inner * (1 - inner);
};
