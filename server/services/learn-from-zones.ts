import type { EarlierZone, SurfaceKind } from '../domain/index.ts';
import { surfaceKindOf } from '../domain/removal/surface-kind.ts';
import { earlierRounds } from './earlier-rounds.ts';
import type { Ledger } from './ledger.ts';
import type { DoneOnMachine } from './trial-ports.ts';

/**
 * The earlier zones that a machine has treated, as the advice takes them: those of the shop but for the one in hand, since
 * the shop last chose to start again from common practice for their kind.
 */
export async function learnFromZones(
  machineId: string,
  exceptZoneId: string | null,
  { learning }: Pick<Ledger, 'learning'>,
): Promise<EarlierZone[]> {
  const forgotten = await learning.forgottenAt(machineId);
  const byZone = new Map<string, DoneOnMachine[]>();
  for (const done of await learning.doneOfMachine(machineId)) {
    if (done.zoneId === exceptZoneId || isForgotten(done, forgotten)) continue;
    byZone.set(done.zoneId, [...(byZone.get(done.zoneId) ?? []), done]);
  }
  return [...byZone.values()].flatMap((done) => {
    const newest = [...new Map(done.map((one) => [one.roundNumber, one])).values()];
    newest.sort((a, b) => a.roundNumber - b.roundNumber);
    const rounds = earlierRounds(newest, Infinity);
    const surface = done[0].basis.surfaceKind;
    if (rounds.length === 0) return [];
    return [{ rounds, ...(surface === '' ? {} : { surface }), ...workOf(newest) }];
  });
}

function isForgotten({ at, basis }: DoneOnMachine, forgotten: ReadonlyMap<SurfaceKind, string>): boolean {
  const since = forgotten.get(surfaceKindOf(basis.surfaceKind));
  return since !== undefined && at <= since;
}

/** Area and working time of a zone: only where all of its rounds state their time, and all of them count. */
function workOf(rounds: readonly DoneOnMachine[]): Pick<EarlierZone, 'areaM2' | 'workMinutes'> {
  const [areaM2] = rounds.map((round) => round.areaM2);
  let workMinutes = 0;
  for (const { minutesSpent, basis } of rounds) {
    if (minutesSpent === null || basis.settings === null) return {};
    workMinutes += minutesSpent;
  }
  return areaM2 === null || workMinutes <= 0 ? {} : { areaM2, workMinutes };
}
