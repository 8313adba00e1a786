import { type SurfaceCandidates } from './element-population.ts';
import { type RemovalPrior, type WithinFactor } from './removal-prior.ts';
import { normalProbabilityBelow, normalQuantile } from '../normal-distribution.ts';

/** Coordinates of a candidate surface in the standard normal space in which the prior is simply N(0, 1) in each. */
export const PARAMETER_DIMENSIONS = 8;

/** Candidate surfaces from points of the standard normal space, {@link PARAMETER_DIMENSIONS} numbers each. */
export function candidatesFrom(points: Float64Array, prior: RemovalPrior): SurfaceCandidates {
  const count = points.length / PARAMETER_DIMENSIONS;
  const { learned } = prior;
  const shift = (z: number, index: number): number =>
    learned === undefined ? z : learned.mean[index] + learned.deviation[index] * z;
  const axis = (index: number, map: (z: number) => number): Float64Array =>
    Float64Array.from({ length: count }, (_, point) => map(shift(points[point * PARAMETER_DIMENSIONS + index], index)));
  const { least, most } = prior.biteExponent;
  return {
    count,
    lnThreshold: axis(0, (z) => Math.log(withinFactor(prior.thresholdJPerCm2, z))),
    thresholdSpread: axis(1, (z) => withinFactor(prior.thresholdSpread, z)),
    energyJPerCm2: axis(2, (z) => withinFactor(prior.energyJPerCm2, z)),
    biteExponent: axis(3, (z) => least + (most - least) * normalProbabilityBelow(z)),
    shape: axis(4, (z) => withinFactor(prior.shape, z)),
    resistantShare: axis(5, (z) => resistantShare(prior, normalProbabilityBelow(z))),
    resistantStep: axis(6, (z) => resistantStep(prior, normalProbabilityBelow(z))),
    // Nothing is known of it but that it is a part: evenly from none to all.
    gapsClosed: axis(7, normalProbabilityBelow),
  };
}

const withinFactor = ({ median, lnDeviation }: WithinFactor, z: number): number => median * Math.exp(lnDeviation * z);

/** Nothing resists with probability 1 - chance; above that the share grows evenly to its most. */
function resistantShare({ resistantPart: { chance, mostShare } }: RemovalPrior, probability: number): number {
  const beyond = probability - (1 - chance);
  return beyond <= 0 || chance <= 0 ? 0 : (mostShare * beyond) / chance;
}

const LEAST_PROBABILITY = 1e-4;

/** Logarithm of how much harder the resistant part is; infinite in the upper part of the probability, where it never yields. */
function resistantStep({ resistantStep: step }: RemovalPrior, probability: number): number {
  const yields = 1 - step.neverChance;
  if (probability >= yields) return Infinity;
  const inner = Math.min(1 - LEAST_PROBABILITY, Math.max(LEAST_PROBABILITY, probability / yields));
  return Math.log(withinFactor(step, normalQuantile(inner)));
}
