import { type Settings } from '../../domain/index.ts';
import { dialledSettings } from './dial-steps.ts';
import { type Planning, prospectOf, type RoundProspect } from './round-prospect.ts';
import { fastestCoveringTravel, strokeOptions, travelAndPasses } from './stroke-options.ts';

const STROKES = 7;
/** Energies of each stroke, as factors on the least that still covers the metal. */
const ENERGY_FACTORS = [1, 1.6, 2.6] as const;

/** A coarse choice over the whole range of strokes and energies, to ask what knowing more would be worth. */
export function coarseRounds(planning: Planning): RoundProspect[] {
  const { machine } = planning.history;
  const choices = new Map<string, Settings>();
  for (const option of strokeOptions(machine, STROKES)) {
    const leastJPerCm2 = (100 * option.powerW) / (option.scanWidthMm * fastestCoveringTravel(option, machine));
    for (const factor of ENERGY_FACTORS) {
      const settings = dialledSettings(
        { ...option, ...travelAndPasses(option, machine, factor * leastJPerCm2) },
        machine,
      );
      choices.set(Object.values(settings).join(' '), settings);
    }
  }
  return [...choices.values()].map((settings) => prospectOf(planning, settings));
}
