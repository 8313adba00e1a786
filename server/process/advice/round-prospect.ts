import { type History, type Settings } from '../../domain/index.ts';
import { type BeliefSample, residueAfterDose } from '../belief/belief-sample.ts';
import { normalProbabilityBelow } from '../belief/normal-distribution.ts';
import { minutesPerSquareMetreOf } from '../kinematics/area-rate.ts';
import { roundDose } from '../removal/round-dose.ts';
import { aimOf, type Aim } from './aim.ts';
import { effortCurves, type EffortCurves, remainingEffort } from './effort-curves.ts';
import { effortFactor } from './effort-factor.ts';
import { strokeOptions } from './stroke-options.ts';

/** Everything that is weighed when the next round is chosen. */
export interface Planning {
  readonly history: History;
  readonly sample: BeliefSample;
  readonly aim: Aim;
  readonly curves: EffortCurves;
}

export function planRound(history: History, sample: BeliefSample): Planning {
  const aim = aimOf(history);
  return { history, sample, aim, curves: effortCurves(sample, strokeOptions(history.machine), history.machine, aim) };
}

/** A round that could be next, with what is expected of it. */
export interface RoundProspect {
  readonly settings: Settings;
  readonly probabilityMeetsTarget: number;
  /** Chance that the photo afterwards shows the target met, on surfaces that some stroke can bring there. */
  readonly chanceIfReachable: number;
  /** Minutes per square metre until the target is shown, redo and photographs included, on the same surfaces. */
  readonly expectedEffort: number;
  /** Residue afterwards on each surface of the sample. */
  readonly residues: Float64Array;
}

/** Extra on what is still to do after a failed round: it, too, may fail. Chosen by the closed-loop test. */
const REDO_FACTOR = 1.6;
/** Minutes per square metre that stopping, photographing and starting again costs. Common practice. */
const ROUND_OVERHEAD_MINUTES = 0.5;

/**
 * What is to be expected of one more round at these settings. Effort counts only surfaces that can be brought to the
 * target at all: on hopeless ones every choice ends in the same change of method, so they must not argue for cheap rounds.
 */
export function prospectOf(planning: Planning, settings: Settings): RoundProspect {
  const { sample, aim, curves, history } = planning;
  const dose = roundDose(settings, history.machine);
  const size = sample.candidates.count;
  const residues = new Float64Array(size);
  let [meets, shown, later, reachable] = [0, 0, 0, 0];
  for (let surface = 0; surface < size; surface++) {
    const residue = residueAfterDose(sample, surface, dose);
    residues[surface] = residue;
    if (residue <= aim.target) meets++;
    if (curves.reachable[surface] === 0) continue;
    reachable++;
    const shows = normalProbabilityBelow((aim.shownShare - residue) / aim.photoDeviation);
    shown += shows;
    later += (1 - shows) * (REDO_FACTOR * remainingEffort(curves, surface, residue) + ROUND_OVERHEAD_MINUTES);
  }
  const counted = Math.max(1, reachable);
  return {
    settings,
    probabilityMeetsTarget: meets / size,
    chanceIfReachable: shown / counted,
    expectedEffort: minutesPerSquareMetreOf(settings) * effortFactor(settings, history.machine) + later / counted,
    residues,
  };
}
