import { ROUND_OVERHEAD_MINUTES, UNKNOWING_FACTOR } from './expected-effort.ts';
import { remainingEffort } from './effort-curves.ts';
import { patchDeviation, photoLikeness } from './photo-likeness.ts';
import { type Planning, type RoundProspect } from './round-prospect.ts';

/**
 * Minutes per square metre with the best of some rounds, chosen with more or less knowledge of the surface, and weighed as
 * where a round is chosen: evenly, a few surfaces that are nearly hopeless made a patch that shows nothing save hours.
 */
export interface ValueOfKnowing {
  /** Chosen by what is believed now. */
  readonly untried: number;
  /** Chosen by somebody who knew the surface: no patch leads to less. */
  readonly certain: number;
  /** Chosen by whoever has seen the photo of a patch: for all surfaces that it cannot tell apart. */
  readonly afterPatch: (patch: RoundProspect) => AfterPatch;
}

export interface AfterPatch {
  readonly minutes: number;
  /** Chance that the surface is hopeless and the patch shows it, so that it is not treated at all. */
  readonly exposedShare: number;
}

/** Chance to reach the target below which whoever has seen a patch stops. Chosen by us: one in twenty. */
const EXPOSED_BELOW = 0.05;

/** Below this chance of a miss what follows it does not matter. */
const LEAST_MISS = 1e-3;

/**
 * What a first round and what has to follow it cost on every surface that can be brought to the target, and so how much
 * less they would cost if one knew more before. Value of information. Source: [RAIFFA1961].
 */
export function valueOfKnowing(planning: Planning, rounds: readonly RoundProspect[]): ValueOfKnowing {
  const { aim, stakes } = planning;
  const surfaces = Array.from(stakes.keys()).filter((surface) => stakes[surface] > 0);
  const costs = rounds.map((round) => costBySurface(planning, round));
  const allStakes = surfaces.reduce((sum, surface) => sum + stakes[surface], 0);
  const mean = (value: (surface: number) => number): number =>
    surfaces.reduce((sum, surface) => sum + stakes[surface] * value(surface), 0) /
    Math.max(Number.MIN_VALUE, allStakes);
  const chosen = leastCost(
    costs,
    weighted(surfaces, (surface) => stakes[surface]),
  );
  return {
    untried: mean((surface) => chosen[surface]),
    certain: mean((surface) => Math.min(...costs.map((cost) => cost[surface]))),
    afterPatch: ({ residues }) => {
      // The residue before is on a photo of its own: what the patch shows is the part that it left.
      const kept = residues.map((residue, surface) => residue / planning.sample.residueNow[surface]);
      const deviations = kept.map((part) => patchDeviation(aim.photoDeviation, part));
      const alike = (surface: number, other: number): number =>
        photoLikeness(kept[surface], kept[other], deviations[surface]);
      const minutes = mean(
        (surface) =>
          leastCost(
            costs,
            weighted(surfaces, (other) => stakes[other] * alike(surface, other)),
          )[surface],
      );
      return { minutes, exposedShare: exposedShare(stakes, alike) };
    },
  };
}

/** Part of all surfaces that are hopeless, and look in the patch's photo like hardly any that is not. */
function exposedShare(stakes: Float64Array, alike: (surface: number, other: number) => number): number {
  let exposed = 0;
  stakes.forEach((stake, surface) => {
    if (stake > 0) return;
    let [hopeful, total] = [0, 0];
    stakes.forEach((otherStake, other) => {
      const weight = alike(surface, other);
      total += weight;
      if (otherStake > 0) hopeful += weight;
    });
    if (hopeful < EXPOSED_BELOW * total) exposed++;
  });
  return exposed / stakes.length;
}

function costBySurface({ curves, stakes }: Planning, { effort, misses, residues }: RoundProspect): Float64Array {
  return misses.map((miss, surface) => {
    if (stakes[surface] === 0 || miss < LEAST_MISS) return effort;
    const rest = UNKNOWING_FACTOR * remainingEffort(curves, surface, residues[surface]);
    return effort + miss * (rest + ROUND_OVERHEAD_MINUTES);
  });
}

/** Surfaces that count, with their weights: places in the sample beside each other, because thousands are summed. */
interface Weighted {
  readonly places: readonly number[];
  readonly weights: readonly number[];
}

function weighted(surfaces: readonly number[], weightOf: (surface: number) => number): Weighted {
  const places: number[] = [];
  const weights: number[] = [];
  for (const surface of surfaces) {
    const weight = weightOf(surface);
    if (weight === 0) continue;
    places.push(surface);
    weights.push(weight);
  }
  return { places, weights };
}

/** Cost by surface of the round whose weighted mean over the surfaces is least. */
function leastCost(costs: readonly Float64Array[], { places, weights }: Weighted): Float64Array {
  let best = costs[0];
  let least = Infinity;
  for (const cost of costs) {
    let sum = 0;
    for (let at = 0; at < places.length; at++) sum += weights[at] * cost[places[at]];
    if (sum >= least) continue;
    best = cost;
    least = sum;
  }
  return best;
}
