import { type History, type Settings } from '../../domain/index.ts';
import { type BeliefSample, residueAfterDose } from '../belief/belief-sample.ts';
import { normalProbabilityBelow } from '../../domain/normal-distribution.ts';
import { minutesPerSquareMetreOf } from '../../domain/kinematics/area-rate.ts';
import { roundDose } from '../../domain/removal/round-dose.ts';
import { aimOf, type Aim } from './aim.ts';
import { effortCurves, type EffortCurves, remainingEffort } from './effort-curves.ts';
import { effortFactor } from './effort-factor.ts';
import { CURVE_STEPS, strokeOptions } from './stroke-options.ts';

/** Everything that is weighed when the next round is chosen. */
export interface Planning {
  readonly history: History;
  readonly sample: BeliefSample;
  readonly aim: Aim;
  readonly curves: EffortCurves;
  /** Part of the sample that meets the target already. */
  readonly metShare: number;
  /**
   * What a wasted minute weighs on each surface of the sample; 0 on hopeless ones, where every choice ends in the same
   * change of method. Minutes count against what the surface needs at least, so that a few very hard surfaces do not
   * make every first round long.
   */
  readonly stakes: Float64Array;
}

export function planRound(history: History, sample: BeliefSample): Planning {
  const aim = aimOf(history);
  const options = strokeOptions(history.machine, CURVE_STEPS);
  const curves = effortCurves(sample, options, history.machine, aim);
  const stakes = sample.residueNow.map((residue, surface) =>
    curves.reachable[surface] === 0 ? 0 : 1 / remainingEffort(curves, surface, residue),
  );
  const met = sample.residueNow.filter((residue) => residue <= aim.target).length;
  return { history, sample, aim, curves, stakes, metShare: met / sample.residueNow.length };
}

/** A round that could be next, with what is expected of it. */
export interface RoundProspect {
  readonly settings: Settings;
  /** Beam time with swath overlap, minutes per square metre. */
  readonly effort: number;
  readonly probabilityMeetsTarget: number;
  /** Chance that the photo afterwards shows the target met, on surfaces that some stroke can bring there. */
  readonly chanceIfReachable: number;
  /** Residue afterwards on each surface of the sample. */
  readonly residues: Float64Array;
  /** Chance on each surface that the photo afterwards does not show the target met. */
  readonly misses: Float64Array;
}

/** What is to be expected of one more round at these settings. */
export function prospectOf(planning: Planning, settings: Settings): RoundProspect {
  const { sample, aim, curves, history } = planning;
  const dose = roundDose(settings, history.machine);
  const size = sample.candidates.count;
  const residues = new Float64Array(size);
  const misses = new Float64Array(size);
  let [meets, shown, reachable] = [0, 0, 0];
  for (let surface = 0; surface < size; surface++) {
    const residue = residueAfterDose(sample, surface, dose);
    const shows = chanceOfShowing(aim, residue);
    residues[surface] = residue;
    misses[surface] = 1 - shows;
    if (residue <= aim.target) meets++;
    if (curves.reachable[surface] === 0) continue;
    reachable++;
    shown += shows;
  }
  return {
    settings,
    effort: minutesPerSquareMetreOf(settings) * effortFactor(settings, history.machine),
    probabilityMeetsTarget: meets / size,
    chanceIfReachable: shown / Math.max(1, reachable),
    residues,
    misses,
  };
}

/** Chance that the target is met and the photo shows it: a photo that errs by luck is no end. */
const chanceOfShowing = ({ target, shownShare, photoDeviation }: Aim, residue: number): number =>
  residue > target ? 0 : normalProbabilityBelow((shownShare - residue) / photoDeviation);
