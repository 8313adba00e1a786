import { type History, type Machine, type Round } from '../../domain/index.ts';
import {
  addRound,
  ELEMENT_CLASSES,
  endOfRound,
  remainingShare,
  type RoundEnd,
  type SurfaceCandidates,
} from '../../domain/removal/element-population.ts';
import { type RemovalPrior } from '../../domain/removal/removal-prior.ts';
import { coveredShare } from '../../domain/kinematics/covered-share.ts';
import { roundDose, type RoundDose, strokeBiteJPerCm2 } from '../../domain/removal/round-dose.ts';
import { UNTOUCHED_RESIDUE } from '../../domain/removal/untouched-residue.ts';
import { haltonNormal } from './halton.ts';
import { modelDeviation } from './model-deviation.ts';
import { DEVIATIONS_AT_95, residueAfter, residueBefore } from './measured-residue.ts';
import { normalProbabilityBelow } from '../../domain/normal-distribution.ts';
import { drawAround, logImportance, fitCloud, type Cloud } from './normal-cloud.ts';
import { candidatesFrom, PARAMETER_DIMENSIONS } from '../../domain/removal/surface-candidates.ts';

/** What is believed about the surface as it is now: weighted candidates, each with the survivors of all earlier rounds. */
export interface SurfaceBelief {
  readonly candidates: SurfaceCandidates;
  /** Sum is 1. */
  readonly weights: Float64Array;
  /** What each class of each candidate has received so far. */
  readonly progress: Float64Array;
  /** Share of the surface under each candidate that no stroke has touched yet. */
  readonly untouched: Float64Array;
  /** Residue of the surface now under each candidate, and the deviation of its error. */
  readonly residueShare: Float64Array;
  readonly residueDeviation: Float64Array;
}

/** Points per stage; three times as many left the closed loop as it was. Chosen for time. */
const POINTS = 1000;
/** Later stages look where the earlier one found weight. Test: after six rounds at least 50 points still count. */
const STAGES = 3;

/** Hand speed error: evenly within 20 % either way has this deviation. Common practice. */
export const HAND_SPEED_DEVIATION = 0.12;

/** How many points a belief is made of, and how often they are moved to where the weight is. */
export interface BeliefEffort {
  readonly points: number;
  readonly stages: number;
}
const FULL_EFFORT: BeliefEffort = { points: POINTS, stages: STAGES };

/**
 * Weighs candidate surfaces by all rounds of the history: importance sampling on fixed points, first spread as the prior,
 * then twice around what fitted. The same history gives the same belief.
 */
export const believeSurface = (
  { machine, rounds, testPatches = [] }: Pick<History, 'machine' | 'rounds' | 'testPatches'>,
  prior: RemovalPrior,
  effort?: BeliefEffort,
): SurfaceBelief => {
  const patches = testPatches.slice(-MOST_PATCHES).map((patch): Treated => {
    const earlier = rounds.slice(0, patch.afterRounds);
    return { rounds: [...earlier, patch], known: earlier.length };
  });
  return weighStages({ machine, zones: [...patches, treated(rounds)] }, prior, effort).belief;
};

/** The latest patches that are learned from. Chosen for time. */
const MOST_PATCHES = 6;

/** As {@link believeSurface}, from patches of one surface that were each treated once, about an untouched rest of it. */
export const believePatches = (machine: Machine, patches: readonly Round[], prior: RemovalPrior): SurfaceBelief =>
  weighStages({ machine, zones: [...patches.map((round) => treated([round])), treated([])] }, prior).belief;

/** What the rounds of one zone say about its parameters, as a normal cloud in the prior's own space. */
export function learnedCloud(
  history: Pick<History, 'machine' | 'rounds'>,
  prior: RemovalPrior,
  effort: BeliefEffort,
): { mean: Float64Array; variance: Float64Array } {
  const { points, belief } = weighStages({ machine: history.machine, zones: [treated(history.rounds)] }, prior, effort);
  const mean = new Float64Array(PARAMETER_DIMENSIONS);
  const square = new Float64Array(PARAMETER_DIMENSIONS);
  belief.weights.forEach((weight, point) => {
    for (let axis = 0; axis < PARAMETER_DIMENSIONS; axis++) {
      const z = points[point * PARAMETER_DIMENSIONS + axis];
      mean[axis] += weight * z;
      square[axis] += weight * z * z;
    }
  });
  return { mean, variance: square.map((value, axis) => Math.max(1e-3, value - mean[axis] ** 2)) };
}

interface Evidence {
  readonly machine: Machine;
  /** Zones of one surface, each untouched at first; the belief is about the last zone as it is now. */
  readonly zones: readonly Treated[];
}

/** Rounds of one zone; the first `known` of them belong to another zone of the evidence, too, and count only once. */
interface Treated {
  readonly rounds: readonly Round[];
  readonly known: number;
}
const treated = (rounds: readonly Round[]): Treated => ({ rounds, known: 0 });

function weighStages(
  evidence: Evidence,
  prior: RemovalPrior,
  effort = FULL_EFFORT,
): { points: Float64Array; belief: SurfaceBelief } {
  const normals = haltonNormal(effort.points, PARAMETER_DIMENSIONS);
  let weighed = weigh(normals, evidence, prior);
  if (evidence.zones.every(({ rounds }) => rounds.length === 0)) return weighed;
  for (let stage = 1; stage < effort.stages; stage++) {
    const cloud = fitCloud(weighed.points, weighed.belief.weights, PARAMETER_DIMENSIONS);
    weighed = weigh(drawAround(cloud, normals), evidence, prior, cloud);
  }
  return weighed;
}

/** Chance that the residue now is at most a share, over all candidates. */
export const chanceWithin = ({ weights, residueShare, residueDeviation }: SurfaceBelief, share: number): number =>
  weights.reduce((sum, weight, i) => {
    const deviation = Math.max(1e-6, residueDeviation[i]);
    return sum + weight * normalProbabilityBelow((share - residueShare[i]) / deviation);
  }, 0);

function weigh(
  points: Float64Array,
  { machine, zones }: Evidence,
  prior: RemovalPrior,
  cloud?: Cloud,
): { points: Float64Array; belief: SurfaceBelief } {
  const candidates = candidatesFrom(points, prior);
  const logWeights = cloud === undefined ? new Float64Array(candidates.count) : logImportance(cloud, points);
  let state = untouched(candidates);
  const unweighed = new Float64Array(candidates.count);
  for (const { rounds, known } of zones) {
    state = untouched(candidates);
    for (const index of rounds.keys()) {
      learnRound(state, { machine, rounds }, index, index < known ? unweighed : logWeights);
    }
  }
  return { points, belief: { ...state, weights: normalised(logWeights) } };
}

const untouched = (candidates: SurfaceCandidates): Learning => ({
  candidates,
  progress: new Float64Array(candidates.count * ELEMENT_CLASSES),
  untouched: new Float64Array(candidates.count).fill(1),
  shareLeft: new Float64Array(candidates.count).fill(1),
  residueShare: new Float64Array(candidates.count).fill(UNTOUCHED_RESIDUE.share),
  residueDeviation: new Float64Array(candidates.count).fill(UNTOUCHED_RESIDUE.deviation),
});

/** A belief while rounds are added to it. */
type Learning = Omit<SurfaceBelief, 'weights'> & {
  /** Share of the elements that is left under each candidate, by the model. */
  readonly shareLeft: Float64Array;
};

/** Adds the log likelihood of one round to every candidate and moves its state past the round. */
function learnRound(
  state: Learning,
  history: { readonly machine: Machine; readonly rounds: readonly Round[] },
  index: number,
  logWeights: Float64Array,
): void {
  const round = history.rounds[index];
  const hand = handSpeed(round);
  const dose = roundDose(round.settings, history.machine, hand.ratio);
  const after = residueAfter(round);
  const end: RoundEnd = { share: 1, slope: 0 };
  for (let candidate = 0; candidate < state.candidates.count; candidate++) {
    const startShare = state.shareLeft[candidate];
    const before = residueBefore(history.rounds, index, {
      share: state.residueShare[candidate],
      deviation: state.residueDeviation[candidate],
    });
    treatCandidate(state, candidate, dose, end);
    const ratio = end.share / startShare;
    const slope = end.slope / startShare;
    const expected = before.share * ratio;
    const modelVariance =
      (ratio * before.deviation) ** 2 +
      (before.share * slope * hand.deviation) ** 2 +
      modelDeviation(expected) ** 2 +
      1e-6;
    const variance = modelVariance + after.deviation ** 2;
    logWeights[candidate] += logStudent((after.share - expected) / Math.sqrt(variance)) - 0.5 * Math.log(variance);
    logWeights[candidate] += weakEvidence(round, history.machine, state.candidates, { candidate, expected });
    const gain = modelVariance / variance;
    state.residueShare[candidate] = Math.min(1, Math.max(0, expected + gain * (after.share - expected)));
    state.residueDeviation[candidate] = Math.sqrt(modelVariance * (1 - gain));
  }
}

/** Room for one candidate's classes before and after a round. */
const BEFORE = new Float64Array(ELEMENT_CLASSES);
const AFTER = new Float64Array(ELEMENT_CLASSES);
const PART_END: RoundEnd = { share: 1, slope: 0 };

/**
 * Moves one candidate past a round. What was touched before and what no stroke had touched are treated apart, since
 * stripes of fresh rust yield to strokes that the survivors beside them have withstood. Afterwards both are one again,
 * with the mean of what they received before.
 *
 * @param end the whole surface afterwards: share of elements left, and how it hangs on the round's energy
 */
function treatCandidate(state: Learning, candidate: number, dose: RoundDose, end: RoundEnd): void {
  const { candidates, progress, untouched, shareLeft } = state;
  const start = candidate * ELEMENT_CLASSES;
  const open = untouched[candidate];
  const covered = coveredShare(dose.strokesSeen, dose.passes, candidates.gapsClosed[candidate]);
  end.share = open * (1 - covered);
  end.slope = 0;
  if (open < 1) {
    const before = (shareLeft[candidate] - open) / (1 - open);
    for (let element = 0; element < ELEMENT_CLASSES; element++) BEFORE[element] = progress[start + element];
    addPart(state, candidate, dose);
    end.share += (1 - open) * (covered * PART_END.share + (1 - covered) * before);
    end.slope += (1 - open) * covered * PART_END.slope;
  }
  const earlier = (1 - open) / (1 - open + open * covered);
  if (open > 0) {
    BEFORE.fill(0);
    addPart(state, candidate, dose);
    end.share += open * covered * PART_END.share;
    end.slope += open * covered * PART_END.slope;
    for (let element = 0; element < ELEMENT_CLASSES; element++) {
      progress[start + element] = AFTER[element] + earlier * progress[start + element];
    }
  } else progress.set(AFTER, start);
  untouched[candidate] = open * (1 - covered);
  const touchedLeft =
    open > 0 && open < 1 ? remainingShare(candidates, candidate, { values: progress, start }) : PART_END.share;
  shareLeft[candidate] = untouched[candidate] + (1 - untouched[candidate]) * touchedLeft;
}

/** Treats one part of a candidate from {@link BEFORE} to {@link AFTER}. */
function addPart({ candidates }: Learning, candidate: number, dose: RoundDose): void {
  AFTER.set(BEFORE);
  addRound(candidates, candidate, dose, { values: AFTER, start: 0, scale: 1 });
  endOfRound(candidates, candidate, { before: BEFORE, after: AFTER }, PART_END);
}

/** Real over intended speed of the hand, and the deviation of its logarithm: measured, or as intended within 20 %. */
function handSpeed({ settings, measuredTravelSpeedMmPerS: seen }: Round): { ratio: number; deviation: number } {
  if (seen === undefined) return { ratio: 1, deviation: HAND_SPEED_DEVIATION };
  return {
    ratio: seen.value / settings.travelSpeedMmPerS,
    deviation: Math.log(seen.high / seen.low) / (2 * DEVIATIONS_AT_95),
  };
}

const STUDENT_FREEDOM = 5;
/** Log density of Student's t, up to a constant: a single odd photo does not overrule the others. */
const logStudent = (t: number): number => -0.5 * (STUDENT_FREEDOM + 1) * Math.log1p(t ** 2 / STUDENT_FREEDOM);

/** Residue at which a scrape test brings material off in half of the cases it can. Common practice, weak. */
const SCRAPE_HALF_SHARE = 0.05;

/** Scrape test and heat tint say little each: the first about what is left, the second about how deep strokes bite. */
function weakEvidence(
  round: Round,
  machine: Machine,
  candidates: SurfaceCandidates,
  { candidate, expected }: { candidate: number; expected: number },
): number {
  let evidence = 0;
  if (round.scrapeTest !== undefined) {
    const comesOff = 0.2 + (0.6 * expected) / (expected + SCRAPE_HALF_SHARE);
    evidence += Math.log(round.scrapeTest === 'clean' ? 1 - comesOff : comesOff);
  }
  if (round.heatTint !== undefined) {
    const bite = strokeBiteJPerCm2(round.settings, machine, candidates.biteExponent[candidate]);
    const excess = bite / Math.exp(candidates.lnThreshold[candidate]);
    const tints = 0.2 + (0.4 * excess) / (excess + 2);
    evidence += Math.log(round.heatTint ? tints : 1 - tints);
  }
  return evidence;
}

function normalised(logWeights: Float64Array): Float64Array {
  const most = logWeights.reduce((a, b) => Math.max(a, b), -Infinity);
  const weights = logWeights.map((value) => Math.exp(value - most));
  const total = weights.reduce((a, b) => a + b, 0);
  return weights.map((weight) => weight / total);
}
