import type { ZoneRound } from '../domain/api/rounds.ts';
import { dialsBeyond, failure, hasTooManyPasses, success } from '../domain/index.ts';
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
  const beyond = dialsBeyond(settings, machine).at(0);
  if (beyond !== undefined) {
    const detail = `is ${beyond.set} but "${name}" goes from ${beyond.min} to ${beyond.max}`;
    return failure({ code: 'settings-malformed', path: beyond.dial, detail });
  }
  if (!hasTooManyPasses(settings, machine)) return success(null);
  const detail = `is ${settings.passes} but "${name}" does ${machine.maxPasses} at most`;
  return failure({ code: 'settings-malformed', path: 'passes', detail });
}
