import { type History, type Machine, type Round } from '../../domain/index.ts';
import {
  addRound,
  ELEMENT_CLASSES,
  energySensitivity,
  remainingShare,
  type SurfaceCandidates,
} from '../removal/element-population.ts';
import { type RemovalPrior } from '../removal/removal-prior.ts';
import { roundDose, strokeBiteJPerCm2 } from '../removal/round-dose.ts';
import { haltonNormal } from './halton.ts';
import { DEVIATIONS_AT_95, residueAfter, residueBefore } from './measured-residue.ts';
import { drawAround, logImportance, fitCloud, type Cloud } from './normal-cloud.ts';
import { candidatesFrom, PARAMETER_DIMENSIONS } from './surface-candidates.ts';

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

/** Points per stage; test: four times as many move no first suggestion's probability by more than 0.05. */
const POINTS = 1500;
/** Later stages look where the earlier one found weight. Test: after six rounds at least 50 points still count. */
const STAGES = 3;

/** Hand speed error: evenly within 20 % either way has this deviation. Common practice. */
export const HAND_SPEED_DEVIATION = 0.12;
/** What the model itself misses, as a part of sqrt(m (1 - m)); keeps a few rounds from looking like certainty. */
const MODEL_DEVIATION = 0.03;
/** Residue of an uncleaned surface when nobody has measured it. Common practice: it is covered but for scratches. */
export const UNTOUCHED_RESIDUE: { readonly share: number; readonly deviation: number } = {
  share: 0.9,
  deviation: 0.04,
};

/**
 * Weighs candidate surfaces by all rounds of the history: importance sampling on fixed points, first spread as the prior,
 * then twice around what fitted. The same history gives the same belief.
 */
export function believeSurface(history: History, prior: RemovalPrior): SurfaceBelief {
  const normals = haltonNormal(POINTS, PARAMETER_DIMENSIONS);
  let belief = weigh(normals, history, prior);
  if (history.rounds.length === 0) return belief.belief;
  for (let stage = 1; stage < STAGES; stage++) {
    const cloud = fitCloud(belief.points, belief.belief.weights, PARAMETER_DIMENSIONS);
    belief = weigh(drawAround(cloud, normals), history, prior, cloud);
  }
  return belief.belief;
}

function weigh(
  points: Float64Array,
  history: History,
  prior: RemovalPrior,
  cloud?: Cloud,
): { points: Float64Array; belief: SurfaceBelief } {
  const candidates = candidatesFrom(points, prior);
  const state = {
    candidates,
    progress: new Float64Array(candidates.count * ELEMENT_CLASSES),
    residueShare: new Float64Array(candidates.count).fill(UNTOUCHED_RESIDUE.share),
    residueDeviation: new Float64Array(candidates.count).fill(UNTOUCHED_RESIDUE.deviation),
  };
  const logWeights = cloud === undefined ? new Float64Array(candidates.count) : logImportance(cloud, points);
  history.rounds.forEach((_, index) => {
    learnRound(state, history, index, logWeights);
  });
  return { points, belief: { ...state, weights: normalised(logWeights) } };
}

type Learning = Omit<SurfaceBelief, 'weights'>;

/** Adds the log likelihood of one round to every candidate and moves its state past the round. */
function learnRound(state: Learning, history: History, index: number, logWeights: Float64Array): void {
  const round = history.rounds[index];
  const hand = handSpeed(round);
  const dose = roundDose(round.settings, history.machine, hand.ratio);
  const before = residueBefore(history.rounds, index);
  const after = residueAfter(round);
  const earlier = state.progress.slice();
  for (let candidate = 0; candidate < state.candidates.count; candidate++) {
    const progress = { values: state.progress, start: candidate * ELEMENT_CLASSES, scale: 1 };
    const startShare = remainingShare(state.candidates, candidate, progress);
    addRound(state.candidates, candidate, dose, progress);
    const endShare = remainingShare(state.candidates, candidate, progress);
    const ratio = dose.touched * (endShare / startShare) + 1 - dose.touched;
    const slope = energySensitivity(state.candidates, candidate, earlier, state.progress) / startShare;
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
