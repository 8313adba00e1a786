import { fraction, measured, type Settings, type TrialPlan, type TrialResult } from '../../domain/index.ts';
import { dialledChoices } from '../advice/choose-next-round.ts';
import { predictedResidue } from '../advice/predicted-residue.ts';
import { type BeliefSample, residueAfterDose } from '../belief/belief-sample.ts';
import { modelDeviation } from '../belief/model-deviation.ts';
import { normalProbabilityBelow } from '../../domain/normal-distribution.ts';
import { minutesPerSquareMetreOf } from '../../domain/kinematics/area-rate.ts';
import { roundDose } from '../../domain/removal/round-dose.ts';

/** Confidence that is asked of a setting that is adopted after one trial. Common practice: nine times in ten. */
export const CONFIDENCE = 0.9;

/** The quickest single round, over all that the machine can dial, whose chance of meeting the target is high enough. */
export function fastestSufficient({ machine, target }: TrialPlan, sample: BeliefSample): TrialResult['fastest'] {
  const quickestFirst = dialledChoices({ machine })
    .map((settings) => ({ settings, minutes: minutesPerSquareMetreOf(settings) }))
    .sort((a, b) => a.minutes - b.minutes);
  const quickest = new Float64Array(sample.candidates.count).fill(Infinity);
  let found: { settings: Settings; residues: Float64Array; probability: number } | null = null;
  for (const { settings, minutes } of quickestFirst) {
    const dose = roundDose(settings, machine);
    const residues = quickest.map((_, surface) => residueAfterDose(sample, surface, dose));
    let met = 0;
    residues.forEach((residue, surface) => {
      met += chanceOfMeeting(residue, target.residueFractionMax);
      if (residue > target.residueFractionMax) return;
      quickest[surface] = Math.min(quickest[surface], minutes);
    });
    const probability = met / residues.length;
    if (found === null && probability >= CONFIDENCE) found = { settings, residues, probability };
  }
  if (found === null) return null;
  const sorted = quickest.filter((minutes) => minutes < Infinity).sort();
  const at = (share: number): number => sorted[Math.round(share * (sorted.length - 1))];
  return {
    settings: found.settings,
    predicted: predictedResidue(found.residues),
    probabilityMeetsTarget: fraction(found.probability),
    minutesPerSquareMetre: minutesPerSquareMetreOf(found.settings),
    quickestPossible: measured(at(0.5), at(0.025), at(0.975)),
  };
}

/** Chance that a surface truly meets the target where the model expects a residue of it. */
const chanceOfMeeting = (residue: number, target: number): number =>
  normalProbabilityBelow((target - residue) / Math.max(LEAST_DEVIATION, modelDeviation(residue)));

/** Keeps the chance defined where nothing is left; far below any photo's limit. */
const LEAST_DEVIATION = 1e-4;
