import { type Machine } from '../../domain/index.ts';
import { type BeliefSample } from '../belief/belief-sample.ts';
import { ELEMENT_CLASSES, remainingShare, strokeRates } from '../../domain/removal/element-population.ts';
import { roundDose } from '../../domain/removal/round-dose.ts';
import { dialledSettings } from './dial-steps.ts';
import { type Aim } from './aim.ts';
import { effortFactor } from './effort-factor.ts';
import { fastestCoveringTravel, type StrokeOption } from './stroke-options.ts';

/**
 * For each surface of a sample: minutes per square metre that are still needed from a given residue, if one knew the
 * surface and chose the best stroke. Residue levels run from the aimed share up to everything, in equal ratios.
 */
export interface EffortCurves {
  readonly aimedShare: number;
  /** `surfaces x RESIDUE_LEVELS`, minutes per square metre; infinite where no stroke gets there. */
  readonly minutes: Float64Array;
  /** 1 for a surface that some stroke can bring to the target, 0 for a hopeless one. */
  readonly reachable: Uint8Array;
  readonly reachableShare: number;
}

const RESIDUE_LEVELS = 14;
/** Energies at which residue curves are taken, J/cm2, in equal ratios. */
const CURVE = { leastJPerCm2: 4, ratio: 1.7, levels: 14 } as const;
export function effortCurves(
  sample: BeliefSample,
  options: readonly StrokeOption[],
  machine: Machine,
  aim: Aim,
): EffortCurves {
  const aimedShare = aim.shownShare;
  const size = sample.candidates.count;
  const minutes = new Float64Array(size * RESIDUE_LEVELS).fill(Infinity);
  const doses = options.map((option) => optionDose(option, machine));
  const curve = new Float64Array(CURVE.levels);
  const rates = new Float64Array(ELEMENT_CLASSES);
  for (let surface = 0; surface < size; surface++) {
    for (const dose of doses) {
      strokeRates(sample.candidates, surface, dose.round, rates);
      fillCurve(sample, surface, { rates, lowest: Math.min(aim.target, aimedShare) }, curve);
      const needed =
        energyToReach(curve, sample.residueNow[surface], aimedShare) ??
        energyToReach(curve, sample.residueNow[surface], aim.target);
      if (needed === null || needed > dose.mostEnergy) continue;
      for (let level = 0; level < RESIDUE_LEVELS; level++) {
        const spent = energyToReach(curve, sample.residueNow[surface], shareAt(aimedShare, level)) ?? 0;
        const rest = Math.max(needed - spent, dose.leastEnergy) * dose.minutesPerJPerCm2;
        const at = surface * RESIDUE_LEVELS + level;
        minutes[at] = Math.min(minutes[at], rest);
      }
    }
  }
  const reachable = Uint8Array.from({ length: size }, (_, i) => (minutes[i * RESIDUE_LEVELS] < Infinity ? 1 : 0));
  return { aimedShare, minutes, reachable, reachableShare: reachable.reduce((a, b) => a + b, 0) / size };
}

/** Residue at each energy; once it is below the aim the rest of the curve does not matter. */
function fillCurve(
  sample: BeliefSample,
  surface: number,
  { rates, lowest }: { rates: Float64Array; lowest: number },
  curve: Float64Array,
): void {
  const start = surface * ELEMENT_CLASSES;
  const values = sample.scratch;
  const open = sample.untouched[surface];
  const perShare = sample.residueNow[surface] / sample.shareNow[surface];
  for (let level = 0; level < CURVE.levels; level++) {
    const energy = energyAt(level) * sample.handFactor[surface];
    let left = 0;
    if (open < 1) {
      for (let element = 0; element < ELEMENT_CLASSES; element++) {
        values[element] = sample.progress[start + element] + rates[element] * energy;
      }
      left += (1 - open) * remainingShare(sample.candidates, surface, { values, start: 0 });
    }
    if (open > 0) {
      for (let element = 0; element < ELEMENT_CLASSES; element++) values[element] = rates[element] * energy;
      left += open * remainingShare(sample.candidates, surface, { values, start: 0 });
    }
    curve[level] = perShare * left;
    if (curve[level] >= lowest) continue;
    curve.fill(curve[level], level + 1);
    return;
  }
}

const energyAt = (level: number): number => CURVE.leastJPerCm2 * CURVE.ratio ** level;
const shareAt = (aimed: number, level: number): number => aimed ** (1 - level / (RESIDUE_LEVELS - 1));

/** Energy at which a falling residue curve reaches a share; linear in the logarithm of residue; null if it never does. */
function energyToReach(curve: Float64Array, start: number, share: number): number | null {
  if (start <= share) return 0;
  let [energy, residue] = [0, start];
  for (let level = 0; level < curve.length; level++) {
    const next = energyAt(level);
    if (curve[level] <= share) {
      const part = Math.log(residue / share) / Math.max(1e-12, Math.log(residue / Math.max(curve[level], 1e-9)));
      return energy + (next - energy) * Math.min(1, part);
    }
    [energy, residue] = [next, curve[level]];
  }
  return null;
}

function optionDose(
  option: StrokeOption,
  machine: Machine,
): {
  round: ReturnType<typeof roundDose>;
  leastEnergy: number;
  mostEnergy: number;
  minutesPerJPerCm2: number;
} {
  const fastest = fastestCoveringTravel(option, machine);
  const settings = dialledSettings({ ...option, travelSpeedMmPerS: fastest, passes: 1 }, machine);
  const round = roundDose(settings, machine);
  return {
    round,
    leastEnergy: round.energyJPerCm2,
    mostEnergy: (round.energyJPerCm2 * settings.travelSpeedMmPerS * machine.maxPasses) / machine.travelSpeedMmPerS.min,
    // 1 J/cm2 over a square metre is 1e4 J.
    minutesPerJPerCm2: (1e4 / (60 * option.powerW)) * effortFactor(option, machine),
  };
}

/** Minutes per square metre still needed by one surface from a residue share, by the nearest lower level and its neighbour. */
export function remainingEffort(curves: EffortCurves, surface: number, residue: number): number {
  const place = (RESIDUE_LEVELS - 1) * (1 - Math.log(Math.min(1, residue)) / Math.log(curves.aimedShare));
  const level = Math.min(RESIDUE_LEVELS - 2, Math.max(0, Math.floor(place)));
  const part = Math.min(1, Math.max(0, place - level));
  const at = surface * RESIDUE_LEVELS + level;
  return (1 - part) * curves.minutes[at] + part * curves.minutes[at + 1];
}
