import { type History, type Machine, type Round } from '../../domain/index.ts';
import {
  addRound,
  ELEMENT_CLASSES,
  endOfRound,
  type RoundEnd,
  type SurfaceCandidates,
} from '../../domain/removal/element-population.ts';
import { type RemovalPrior } from '../../domain/removal/removal-prior.ts';
import { coveredShare } from '../../domain/kinematics/covered-share.ts';
import { roundDose, strokeBiteJPerCm2 } from '../../domain/removal/round-dose.ts';
import { UNTOUCHED_RESIDUE } from '../../domain/removal/untouched-residue.ts';
import { haltonNormal } from './halton.ts';
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
/** What the model itself misses, as a part of sqrt(m (1 - m)); keeps a few rounds from looking like certainty. */
const MODEL_DEVIATION = 0.03;

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
  history: Pick<History, 'machine' | 'rounds'>,
  prior: RemovalPrior,
  effort?: BeliefEffort,
): SurfaceBelief => weighStages({ machine: history.machine, zones: [history.rounds] }, prior, effort).belief;

/** As {@link believeSurface}, from patches of one surface that were each treated once, about an untouched rest of it. */
export const believePatches = (machine: Machine, patches: readonly Round[], prior: RemovalPrior): SurfaceBelief =>
  weighStages({ machine, zones: [...patches.map((round) => [round]), []] }, prior).belief;

/** What the rounds of one zone say about its parameters, as a normal cloud in the prior's own space. */
export function learnedCloud(
  history: Pick<History, 'machine' | 'rounds'>,
  prior: RemovalPrior,
  effort: BeliefEffort,
): { mean: Float64Array; variance: Float64Array } {
  const { points, belief } = weighStages({ machine: history.machine, zones: [history.rounds] }, prior, effort);
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
  /** Rounds of zones of one surface, each zone untouched at first; the belief is about the last zone as it is now. */
  readonly zones: readonly (readonly Round[])[];
}

function weighStages(
  evidence: Evidence,
  prior: RemovalPrior,
  effort = FULL_EFFORT,
): { points: Float64Array; belief: SurfaceBelief } {
  const normals = haltonNormal(effort.points, PARAMETER_DIMENSIONS);
  let weighed = weigh(normals, evidence, prior);
  if (evidence.zones.every((rounds) => rounds.length === 0)) return weighed;
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
  for (const rounds of zones) {
    state = untouched(candidates);
    for (const index of rounds.keys()) learnRound(state, { machine, rounds }, index, logWeights);
  }
  return { points, belief: { ...state, weights: normalised(logWeights) } };
}

const untouched = (candidates: SurfaceCandidates): Learning => ({
  candidates,
  progress: new Float64Array(candidates.count * ELEMENT_CLASSES),
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
  const touched = coveredShare(dose.strokesSeen, dose.passes);
  const before = residueBefore(history.rounds, index);
  const after = residueAfter(round);
  const earlier = state.progress.slice();
  const end: RoundEnd = { share: 1, slope: 0 };
  for (let candidate = 0; candidate < state.candidates.count; candidate++) {
    const startShare = state.shareLeft[candidate];
    addRound(state.candidates, candidate, dose, {
      values: state.progress,
      start: candidate * ELEMENT_CLASSES,
      scale: 1,
    });
    endOfRound(state.candidates, candidate, { before: earlier, after: state.progress }, end);
    state.shareLeft[candidate] = end.share;
    const ratio = touched * (end.share / startShare) + 1 - touched;
    const slope = end.slope / startShare;
    const expected = before.share * ratio;
    const modelVariance =
      (ratio * before.deviation) ** 2 +
      (before.share * slope * hand.deviation) ** 2 +
      MODEL_DEVIATION ** 2 * expected * (1 - Math.min(1, expected)) +
      1e-6;
    const variance = modelVariance + after.deviation ** 2;
    logWeights[candidate] += logStudent((after.share - expected) / Math.sqrt(variance)) - 0.5 * Math.log(variance);
    logWeights[candidate] += weakEvidence(round, history.machine, state.candidates, { candidate, expected });
    const gain = modelVariance / variance;
    state.residueShare[candidate] = Math.min(1, Math.max(0, expected + gain * (after.share - expected)));
    state.residueDeviation[candidate] = Math.sqrt(modelVariance * (1 - gain));
  }
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
