import type { ZoneAdvice, ZonePatch } from '../domain/api/test-patches.ts';
import type { JobZone } from '../domain/api/zones.ts';
import { fraction, success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';
import { adviseOnRounds } from './advise-on-rounds.ts';
import { aimOfGrade, saysAdhesion } from './aim-of-grade.ts';
import { earlierRounds } from './earlier-rounds.ts';
import { learnFromZones } from './learn-from-zones.ts';
import type { Ledger } from './ledger.ts';
import { statedPatch } from './place-patches.ts';

export interface AdviseZonePorts {
  readonly ledger: Pick<Ledger, 'assessments' | 'testPatches' | 'machines' | 'shop' | 'learning'>;
}

/** Where a zone stands, as far as advice and test patches need it. */
export interface ZoneNow {
  readonly afterRound: number;
  readonly machineId: string | null;
}

type DoneRounds = Awaited<ReturnType<Ledger['assessments']['doneByRound']>>;

/** The latest measured round of a zone, and the machine that it was made with or that usually works there. */
export async function zoneNow(zone: JobZone, { ledger }: AdviseZonePorts): Promise<ZoneNow> {
  return nowOf(zone, await ledger.assessments.doneByRound(zone.id), (await ledger.shop.read()).usualMachineId);
}

function nowOf({ machineId }: JobZone, done: DoneRounds, usualMachineId: string | null): ZoneNow {
  const latest = done.reduce<DoneRounds[number] | null>(
    (last, round) => (last === null || round.roundNumber > last.roundNumber ? round : last),
    null,
  );
  return {
    afterRound: latest?.roundNumber ?? 0,
    machineId: latest?.basis.machineId ?? machineId ?? usualMachineId,
  };
}

/**
 * Advice by all that is known of a zone now. An answer holds the advice of its own hour; this one knows the test patches
 * that were tried since, and before the first round what the machine did on earlier zones of the kind.
 *
 * @param patches those of the zone, oldest first
 */
export async function adviseZone(
  zone: JobZone,
  patches: readonly ZonePatch[],
  { ledger }: AdviseZonePorts,
): Promise<Outcome<ZoneAdvice>> {
  const done = await ledger.assessments.doneByRound(zone.id);
  const { usualMachineId, usualTargetGrade } = await ledger.shop.read();
  const now = nowOf(zone, done, usualMachineId);
  const none = (whyNone: string): Outcome<ZoneAdvice> => success({ ...now, advice: null, whyNone });
  const machine = now.machineId === null ? null : await ledger.machines.find(now.machineId);
  if (now.machineId === null || machine === null) {
    return none('No machine is named for this zone, so no setting is advised.');
  }
  const aim = aimOfGrade(zone.targetGrade ?? usualTargetGrade);
  if (!aim.ok) return aim;
  if (aim.value.residueFractionMax === null) return none(saysAdhesion(aim.value));
  const roundsUpTo = (number: number): number => earlierRounds(done, number + 1).length;
  const advising = adviseOnRounds({
    machine: machine.machine,
    ...(zone.surfaceKind === '' ? {} : { surface: zone.surfaceKind }),
    ...(zone.thicknessMm === null ? {} : { thicknessMm: zone.thicknessMm }),
    ...(zone.areaM2 === null ? {} : { areaM2: zone.areaM2 }),
    target: { residueFractionMax: fraction(aim.value.residueFractionMax) },
    rounds: earlierRounds(done, Infinity),
    patches: patches
      .filter(({ machineId }) => machineId === now.machineId)
      .map((patch) => statedPatch(patch, roundsUpTo(patch.afterRound))),
    earlierZones: await learnFromZones(now.machineId, zone.id, ledger),
  });
  if (!advising.ok) return advising;
  return success({ ...now, advice: advising.value.advice, whyNone: null });
}
