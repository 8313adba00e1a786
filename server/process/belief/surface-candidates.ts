import { type SurfaceCandidates } from '../removal/element-population.ts';
import { type RemovalPrior, type WithinFactor } from '../removal/removal-prior.ts';
import { normalProbabilityBelow } from './normal-distribution.ts';

/** Coordinates of a candidate surface in the standard normal space in which the prior is simply N(0, 1) in each. */
export const PARAMETER_DIMENSIONS = 6;

/** Candidate surfaces from points of the standard normal space, {@link PARAMETER_DIMENSIONS} numbers each. */
export function candidatesFrom(points: Float64Array, prior: RemovalPrior): SurfaceCandidates {
  const count = points.length / PARAMETER_DIMENSIONS;
  const axis = (index: number, map: (z: number) => number): Float64Array =>
    Float64Array.from({ length: count }, (_, point) => map(points[point * PARAMETER_DIMENSIONS + index]));
  const { least, most } = prior.biteExponent;
  return {
    count,
    lnThreshold: axis(0, (z) => Math.log(withinFactor(prior.thresholdJPerCm2, z))),
    thresholdSpread: axis(1, (z) => withinFactor(prior.thresholdSpread, z)),
    energyJPerCm2: axis(2, (z) => withinFactor(prior.energyJPerCm2, z)),
    biteExponent: axis(3, (z) => least + (most - least) * normalProbabilityBelow(z)),
    shape: axis(4, (z) => withinFactor(prior.shape, z)),
    resistantShare: axis(5, (z) => resistantShare(prior, normalProbabilityBelow(z))),
  };
}

const withinFactor = ({ median, lnDeviation }: WithinFactor, z: number): number => median * Math.exp(lnDeviation * z);

/** Nothing resists with probability 1 - chance; above that the share grows evenly to its most. */
function resistantShare({ resistantPart: { chance, mostShare } }: RemovalPrior, probability: number): number {
  const beyond = probability - (1 - chance);
  return beyond <= 0 || chance <= 0 ? 0 : (mostShare * beyond) / chance;
}
