import { coveredShare } from '../../domain/kinematics/covered-share.ts';
import {
  addRound,
  ELEMENT_CLASSES,
  remainingShare,
  type SurfaceCandidates,
} from '../../domain/removal/element-population.ts';
import { type RoundDose } from '../../domain/removal/round-dose.ts';
import { haltonNormal } from './halton.ts';
import { HAND_SPEED_DEVIATION, type SurfaceBelief } from './surface-belief.ts';

/** Equally likely surfaces drawn from a belief, each with its own residue now and its own hand in the next round. */
export interface BeliefSample {
  readonly candidates: SurfaceCandidates;
  readonly progress: Float64Array;
  /** Share of each surface that no stroke has touched yet: stripes between lines that lay too far apart. */
  readonly untouched: Float64Array;
  readonly residueNow: Float64Array;
  /** Share of elements still there by the model, to which the next round is compared. */
  readonly shareNow: Float64Array;
  /** Intended over real hand speed of the next round: a factor on its energy and on the strokes that a point sees. */
  readonly handFactor: Float64Array;
  /** Room for one surface's classes while a dose is tried. */
  readonly scratch: Float64Array;
}

/** Draws `size` surfaces at even steps of the cumulative weight (systematic resampling without a random start). */
export function sampleBelief(belief: SurfaceBelief, size: number): BeliefSample {
  const picks = evenPicks(belief.weights, size);
  const noise = haltonNormal(size, 2);
  const source = belief.candidates;
  const pick = (values: Float64Array): Float64Array => Float64Array.from(picks, (from) => values[from]);
  const candidates: SurfaceCandidates = {
    count: size,
    lnThreshold: pick(source.lnThreshold),
    thresholdSpread: pick(source.thresholdSpread),
    energyJPerCm2: pick(source.energyJPerCm2),
    biteExponent: pick(source.biteExponent),
    shape: pick(source.shape),
    resistantShare: pick(source.resistantShare),
    resistantStep: pick(source.resistantStep),
    gapsClosed: pick(source.gapsClosed),
  };
  const untouched = pick(belief.untouched);
  const progress = new Float64Array(size * ELEMENT_CLASSES);
  picks.forEach((from, to) => {
    progress.set(belief.progress.subarray(from * ELEMENT_CLASSES, (from + 1) * ELEMENT_CLASSES), to * ELEMENT_CLASSES);
  });
  const residueNow = Float64Array.from(picks, (from, to) => {
    const drawn = belief.residueShare[from] + belief.residueDeviation[from] * noise[2 * to];
    return Math.min(1, Math.max(LEAST_RESIDUE, drawn));
  });
  return {
    candidates,
    progress,
    untouched,
    residueNow,
    shareNow: Float64Array.from(picks, (_, to) => {
      const touchedLeft = remainingShare(candidates, to, { values: progress, start: to * ELEMENT_CLASSES });
      return untouched[to] + (1 - untouched[to]) * touchedLeft;
    }),
    handFactor: Float64Array.from(picks, (_, to) => Math.exp(HAND_SPEED_DEVIATION * noise[2 * to + 1])),
    scratch: new Float64Array(ELEMENT_CLASSES),
  };
}

/** Keeps shares positive where logarithms are taken; far below any photo's limit. */
const LEAST_RESIDUE = 1e-4;

function evenPicks(weights: Float64Array, size: number): number[] {
  const picks: number[] = [];
  let from = 0;
  let reached = weights[0];
  for (let to = 0; to < size; to++) {
    while (reached < (to + 0.5) / size && from < weights.length - 1) reached += weights[++from];
    picks.push(from);
  }
  return picks;
}

/** Residue that one surface of the sample will have after one more round of a dose. */
export function residueAfterDose(sample: BeliefSample, surface: number, dose: RoundDose): number {
  const { candidates, scratch, untouched } = sample;
  const hand = sample.handFactor[surface];
  const start = surface * ELEMENT_CLASSES;
  const progress = { values: scratch, start: 0, scale: hand };
  const covered = coveredShare(dose.strokesSeen * hand, dose.passes, candidates.gapsClosed[surface]);
  const open = untouched[surface];
  let left = 0;
  if (open < 1) {
    for (let element = 0; element < ELEMENT_CLASSES; element++) scratch[element] = sample.progress[start + element];
    // Survivors that this round misses stay as they are.
    const before = (sample.shareNow[surface] - open) / (1 - open);
    addRound(candidates, surface, dose, progress);
    left += (1 - open) * (covered * remainingShare(candidates, surface, progress) + (1 - covered) * before);
  }
  if (open > 0) {
    scratch.fill(0);
    addRound(candidates, surface, dose, progress);
    left += open * (covered * remainingShare(candidates, surface, progress) + 1 - covered);
  }
  return (sample.residueNow[surface] * left) / sample.shareNow[surface];
}
