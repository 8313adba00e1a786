import type { ZoneRound } from '../domain/api/rounds.ts';
import { failure, success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';
import type { Tables } from './ledger.ts';

/** Settings that the machine cannot have had are told before the analysis, not after it. */
export async function checkDials(
  { settings, machineId }: Pick<ZoneRound, 'settings' | 'machineId'>,
  { machines }: Pick<Tables, 'machines'>,
): Promise<Outcome<null>> {
  const shopMachine = settings === null || machineId === null ? null : await machines.find(machineId);
  if (settings === null || shopMachine === null) return success(null);
  const { machine, name } = shopMachine;
  for (const dial of ['powerW', 'scanWidthMm', 'scanFrequencyHz', 'travelSpeedMmPerS'] as const) {
    const { min, max } = machine[dial];
    if (settings[dial] < min || settings[dial] > max) {
      const detail = `is ${settings[dial]} but "${name}" goes from ${min} to ${max}`;
      return failure({ code: 'settings-malformed', path: dial, detail });
    }
  }
  if (settings.passes <= machine.maxPasses) return success(null);
  const detail = `is ${settings.passes} but "${name}" does ${machine.maxPasses} at most`;
  return failure({ code: 'settings-malformed', path: 'passes', detail });
}
