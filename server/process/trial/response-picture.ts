import { fraction, type Fraction, type ResponsePicture, type TrialPlan } from '../../domain/index.ts';
import { predictedResidue } from '../advice/predicted-residue.ts';
import { type BeliefSample, residueAfterDose } from '../belief/belief-sample.ts';
import { strokeFluence } from '../../domain/energy/stroke-fluence.ts';
import { dwellTime } from '../../domain/kinematics/dwell-time.ts';
import { REFERENCE_DWELL_S, type RoundDose } from '../../domain/removal/round-dose.ts';

const STEPS = 16;
const ENERGY_RANGE = { leastJPerCm2: 5, mostJPerCm2: 1500 } as const;

/**
 * Residue over stroke fluence and areal energy at full power, from the gentlest stroke of the machine to its deepest, in
 * equal ratios. Cells with less energy than one stroke brings stand for a surface that is touched in part.
 */
export function responsePicture({ machine, target }: TrialPlan, sample: BeliefSample): ResponsePicture {
  const power = machine.powerW.max;
  const sweep = (scanWidthMm: typeof machine.scanWidthMm.min, scanFrequencyHz: typeof machine.scanFrequencyHz.min) => ({
    powerW: power,
    scanWidthMm,
    scanFrequencyHz,
  });
  const gentlest = sweep(machine.scanWidthMm.max, machine.scanFrequencyHz.max);
  const deepest = sweep(machine.scanWidthMm.min, machine.scanFrequencyHz.min);
  const fluences = equalRatios(strokeFluence(gentlest, machine), strokeFluence(deepest, machine));
  const energies = equalRatios(ENERGY_RANGE.leastJPerCm2, ENERGY_RANGE.mostJPerCm2);
  // At one power and spot the dwell goes with the fluence.
  const dwellPerFluence = dwellTime(gentlest, machine) / strokeFluence(gentlest, machine);
  const residueFraction: Fraction[][] = [];
  const probabilityMeetsTarget: Fraction[][] = [];
  for (const fluence of fluences) {
    const cells = energies.map((energyJPerCm2) => {
      const dose: RoundDose = {
        lnFluence: Math.log(fluence),
        lnDwell: Math.log((dwellPerFluence * fluence) / REFERENCE_DWELL_S),
        energyJPerCm2,
        strokesSeen: energyJPerCm2 / fluence,
        passes: 1,
      };
      return Float64Array.from({ length: sample.candidates.count }, (_, surface) =>
        residueAfterDose(sample, surface, dose),
      );
    });
    residueFraction.push(cells.map((residues) => fraction(round(predictedResidue(residues).value))));
    probabilityMeetsTarget.push(
      cells.map((residues) =>
        fraction(round(residues.filter((residue) => residue <= target.residueFractionMax).length / residues.length)),
      ),
    );
  }
  return {
    strokeFluenceJPerCm2: fluences,
    arealEnergyJPerCm2: energies,
    residueFraction,
    probabilityMeetsTarget,
  };
}

const round = (share: number): number => Math.round(share * 1e4) / 1e4;

const equalRatios = (from: number, to: number): number[] =>
  Array.from({ length: STEPS }, (_, step) => from * (to / from) ** (step / (STEPS - 1)));
