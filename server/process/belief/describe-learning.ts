import { type EarlierZone, type Machine, type SurfaceKind } from '../../domain/index.ts';
import { removalPriorOf, type WithinFactor } from '../../domain/removal/removal-prior.ts';
import { pooledPrior } from './pooled-prior.ts';

/** What a machine's zones taught about a kind of surface, beside what was believed before them. */
export interface LearnedFigures {
  readonly thresholdJPerCm2: number;
  readonly thresholdWithinFactor: number;
  readonly usualThresholdJPerCm2: number;
  readonly energyJPerCm2: number;
  readonly energyWithinFactor: number;
  readonly usualEnergyJPerCm2: number;
}

/** Places of threshold and energy among the parameters of a candidate surface. */
const AXIS = { threshold: 0, energy: 2 } as const;
/** Half width of a 95 % interval in deviations. Source: the normal distribution. */
const DEVIATIONS_AT_95 = 1.96;

/** Medians, and the factor either way within which a new zone's value lies in 95 % of cases. */
export function describeLearning(kind: SurfaceKind, machine: Machine, zones: readonly EarlierZone[]): LearnedFigures {
  const usual = removalPriorOf(kind);
  const { learned } = pooledPrior(usual, machine, zones);
  const figures = ({ median, lnDeviation }: WithinFactor, axis: number): [number, number] => {
    const [mean, deviation] = learned === undefined ? [0, 1] : [learned.mean[axis], learned.deviation[axis]];
    return [median * Math.exp(lnDeviation * mean), Math.exp(DEVIATIONS_AT_95 * lnDeviation * deviation)];
  };
  const [thresholdJPerCm2, thresholdWithinFactor] = figures(usual.thresholdJPerCm2, AXIS.threshold);
  const [energyJPerCm2, energyWithinFactor] = figures(usual.energyJPerCm2, AXIS.energy);
  return {
    thresholdJPerCm2,
    thresholdWithinFactor,
    usualThresholdJPerCm2: usual.thresholdJPerCm2.median,
    energyJPerCm2,
    energyWithinFactor,
    usualEnergyJPerCm2: usual.energyJPerCm2.median,
  };
}
