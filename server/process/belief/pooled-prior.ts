import { type EarlierZone, type Machine, type SurfaceKind } from '../../domain/index.ts';
import { type RemovalPrior } from '../../domain/removal/removal-prior.ts';
import { surfaceKindOf } from '../../domain/removal/surface-kind.ts';
import { type BeliefEffort, learnedCloud } from './surface-belief.ts';
import { PARAMETER_DIMENSIONS } from '../../domain/removal/surface-candidates.ts';

/**
 * Part of the prior's variance that lies between zones of one kind in one shop; the rest is what the shop's machine and
 * material have in common and what its earlier zones can teach. Chosen by us, near one half because nothing is published.
 */
const BETWEEN_ZONES = 0.4;
/** The latest zones that are learned from, and the rounds of each. */
const MOST_ZONES = 8;
const MOST_ROUNDS = 4;
const EFFORT: BeliefEffort = { points: 400, stages: 2 };

/** The earlier zones that teach something about a kind of surface: the latest of the same kind. */
export const zonesOfKind = (zones: readonly EarlierZone[], kind: SurfaceKind): EarlierZone[] =>
  zones.filter(({ surface }) => surfaceKindOf(surface) === kind).slice(-MOST_ZONES);

/**
 * Hierarchical pooling: each parameter of a zone is the shop's own mean plus a deviation of the zone. Every earlier zone
 * measures the mean with its own uncertainty; a new zone starts from that mean, and stays free to differ from it by as
 * much as zones do. Parameters are pooled one by one, in the space where the prior is N(0, 1). Source: [GELMAN2013], 5.4.
 */
export function pooledPrior(prior: RemovalPrior, machine: Machine, zones: readonly EarlierZone[]): RemovalPrior {
  if (zones.length === 0) return prior;
  const precision = new Float64Array(PARAMETER_DIMENSIONS).fill(1 / (1 - BETWEEN_ZONES));
  const weighted = new Float64Array(PARAMETER_DIMENSIONS);
  for (const { rounds } of zones) {
    const { mean, variance } = learnedCloud({ machine, rounds: rounds.slice(0, MOST_ROUNDS) }, prior, EFFORT);
    for (let axis = 0; axis < PARAMETER_DIMENSIONS; axis++) {
      // What the rounds alone say: the posterior with the prior N(0, 1) taken out again.
      const own = 1 / variance[axis] - 1;
      if (own <= LEAST_PRECISION) continue;
      const ofMean = 1 / (1 / own + BETWEEN_ZONES);
      precision[axis] += ofMean;
      weighted[axis] += (ofMean * mean[axis]) / (variance[axis] * own);
    }
  }
  return {
    ...prior,
    learned: {
      mean: weighted.map((value, axis) => value / precision[axis]),
      deviation: precision.map((value) => Math.sqrt(1 / value + BETWEEN_ZONES)),
    },
  };
}

/** Below this a zone says nothing about a parameter. */
const LEAST_PRECISION = 0.02;
