import {
  failure,
  fraction,
  type Outcome,
  type PatchReading,
  type Round,
  statedResidue,
  success,
  type TrialPlan,
  type TrialResult,
} from '../../domain/index.ts';
import { percent } from '../advice/explain-round.ts';
import { predictedResidue } from '../advice/predicted-residue.ts';
import { type BeliefSample, residueAfterDose, sampleBelief } from '../belief/belief-sample.ts';
import { UNTOUCHED_RESIDUE } from '../../domain/removal/untouched-residue.ts';
import { believePatches } from '../belief/surface-belief.ts';
import { removalPriorOf } from '../../domain/removal/removal-prior.ts';
import { roundDose } from '../../domain/removal/round-dose.ts';
import { surfaceKindOf } from '../../domain/removal/surface-kind.ts';
import { CONFIDENCE, fastestSufficient } from './fastest-sufficient.ts';
import { responsePicture } from './response-picture.ts';

const SAMPLE_SIZE = 160;

/**
 * Fits the removal model to the measured patches of a trial and names the quickest setting of the whole machine that
 * meets the target with 90 % confidence. Every patch is a round on an untouched piece of one surface. Patches that the
 * fitted model cannot explain are marked: something else was at work there.
 */
export function readTrial(plan: TrialPlan, readings: readonly PatchReading[]): Outcome<TrialResult> {
  const byName = new Map(readings.map((reading) => [reading.name, reading]));
  const missing = plan.patches.filter(({ name }) => !byName.has(name)).map(({ name }) => name);
  if (missing.length > 0) return failure({ code: 'trial-patches-differ', missing });
  const rounds = roundsOf(plan, readings);
  const prior = removalPriorOf(surfaceKindOf(plan.surface));
  const sample = sampleBelief(believePatches(plan.machine, rounds, prior), SAMPLE_SIZE);
  const patches = plan.patches.flatMap((patch) => {
    const reading = byName.get(patch.name);
    return reading === undefined ? [] : [fittedPatch(plan, patch.settings, reading, sample)];
  });
  const fastest = fastestSufficient(plan, sample);
  return success({
    schema: 'bareplate/trial-result@1',
    name: plan.name,
    target: plan.target,
    patches,
    fastest,
    response: responsePicture(plan, sample),
    because: explain(
      plan,
      fastest,
      patches.filter(({ isOdd }) => isOdd).map(({ name }) => name),
    ),
  });
}

/** The trial as the rounds that it was, for whoever learns from it later. */
export function roundsOf(plan: TrialPlan, readings: readonly PatchReading[]): Round[] {
  return plan.patches.flatMap(({ name, settings }) => {
    const reading = readings.find((one) => one.name === name);
    if (reading === undefined) return [];
    return [
      {
        settings,
        before: { residueFraction: fraction(Math.max(UNTOUCHED_RESIDUE.share, reading.residue.value)) },
        after: statedResidue(reading.residue),
      },
    ];
  });
}

function fittedPatch(
  { machine }: TrialPlan,
  settings: Round['settings'],
  { name, residue }: PatchReading,
  sample: BeliefSample,
): TrialResult['patches'][number] {
  const dose = roundDose(settings, machine);
  const fitted = predictedResidue(
    Float64Array.from({ length: sample.candidates.count }, (_, surface) => residueAfterDose(sample, surface, dose)),
  );
  return { name, residue, settings, fitted, isOdd: residue.low > fitted.high || residue.high < fitted.low };
}

function explain({ target }: TrialPlan, fastest: TrialResult['fastest'], odd: readonly string[]): string {
  const asked = percent(target.residueFractionMax);
  const doubt =
    odd.length === 0 ? '' : ` Patch ${odd.join(', ')} is not explained by the fit: look there for another cause first.`;
  if (fastest === null) {
    return `No setting of this machine leaves ${asked} or less with ${percent(CONFIDENCE)} confidence in a single round.${doubt}`;
  }
  const { quickestPossible: quickest } = fastest;
  return (
    `The quickest setting that leaves ${asked} or less with ${percent(fastest.probabilityMeetsTarget)} confidence takes ` +
    `${fastest.minutesPerSquareMetre.toFixed(1)} min/m2; if the surface were known exactly it would be ${quickest.value.toFixed(1)} (${quickest.low.toFixed(1)} to ${quickest.high.toFixed(1)}).${doubt}`
  );
}
