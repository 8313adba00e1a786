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
    return rounds.length === 0 ? [] : [{ rounds, ...(surface === '' ? {} : { surface }) }];
  });
}

function isForgotten({ at, basis }: DoneOnMachine, forgotten: ReadonlyMap<SurfaceKind, string>): boolean {
  const since = forgotten.get(surfaceKindOf(basis.surfaceKind));
  return since !== undefined && at <= since;
}
