import { type History, type Settings } from '../../domain/index.ts';
import { arealEnergy } from '../../domain/energy/areal-energy.ts';
import { dialledSettings } from './dial-steps.ts';
import { expectedEffort } from './expected-effort.ts';
import { type RoundProspect, type Planning } from './round-prospect.ts';
import { travelAndPasses } from './stroke-options.ts';

/** Factors on stroke and energy that are tried about the best of the coarse choice: half its step, then a quarter. */
const FACTORS = [1.14, 1.07] as const;

/**
 * The best round near another, on steps of the dial that the coarse choice leaves out: a little more or less energy, a
 * little deeper or gentler strokes.
 *
 * @param weighed what to expect of those of some settings that may be chosen
 */
export function refineRound(
  planning: Planning,
  coarse: RoundProspect,
  weighed: (choices: readonly Settings[]) => readonly RoundProspect[],
): RoundProspect {
  let best = coarse;
  let least = expectedEffort(planning, coarse);
  for (const factor of FACTORS) {
    for (const prospect of weighed(neighbours(planning.history, best.settings, factor))) {
      const effort = expectedEffort(planning, prospect);
      if (effort < least) [best, least] = [prospect, effort];
    }
  }
  return best;
}

function neighbours({ machine }: History, around: Settings, factor: number): Settings[] {
  const found = new Map<string, Settings>();
  for (const deeper of [1 / factor, 1, factor]) {
    const stroke = deepened(around, deeper, machine.scanFrequencyHz.min);
    for (const more of [1 / factor, 1, factor]) {
      if (deeper === 1 && more === 1) continue;
      const energy = more * arealEnergy(around);
      const settings = dialledSettings({ ...stroke, ...travelAndPasses(stroke, machine, energy) }, machine);
      found.set(Object.values(settings).join(' '), settings);
    }
  }
  return [...found.values()];
}

/** A stroke slower by a factor: by its frequency where the dial allows, by the width of the line where it does not. */
function deepened(
  { powerW, scanWidthMm, scanFrequencyHz }: Settings,
  deeper: number,
  lowestHz: number,
): Pick<Settings, 'powerW'> & { scanWidthMm: number; scanFrequencyHz: number } {
  const byFrequency = deeper < 1 ? true : scanFrequencyHz > lowestHz;
  return byFrequency
    ? { powerW, scanWidthMm, scanFrequencyHz: Math.max(lowestHz, scanFrequencyHz / deeper) }
    : { powerW, scanWidthMm: scanWidthMm / deeper, scanFrequencyHz };
}
