import type { z } from 'zod';
import type { ComparedSide } from '../domain/api/comparisons.ts';
import type { newZonePatchSchema, ZoneAdvice, ZonePatch } from '../domain/api/test-patches.ts';
import type { JobZone } from '../domain/api/zones.ts';
import { failure, measuredShare, success } from '../domain/index.ts';
import type { Fault, Outcome } from '../domain/index.ts';
import { faultSentence } from '../domain/fault-sentence.ts';
import { absent } from './absent.ts';
import { adviseZone, zoneNow } from './advise-zone.ts';
import type { AdviseZonePorts } from './advise-zone.ts';
import { checkDials } from './check-dials.ts';
import type { Ledger } from './ledger.ts';
import { hasHeatTint, surelyMoving } from './measured-round.ts';
import { nowOf } from './moments.ts';
import type { Actor, Clock, TokenMaker } from './people-ports.ts';

export interface TestPatchPorts {
  readonly ledger: AdviseZonePorts['ledger'] & Pick<Ledger, 'zones' | 'comparisons'>;
  readonly tokens: Pick<TokenMaker, 'newId'>;
  readonly clock: Clock;
}

export interface TestPatches {
  list(zoneId: string): Promise<Outcome<{ items: ZonePatch[] }>>;
  /** Refused where the patch cannot have happened on this machine and this zone. */
  add(zoneId: string, body: z.output<typeof newZonePatchSchema>, actor: Actor): Promise<Outcome<ZonePatch>>;
  remove(id: string): Promise<Outcome<null>>;
  advise(zoneId: string): Promise<Outcome<ZoneAdvice>>;
}

/** By eye a share is taken to be within this, 19 times out of 20. Common practice: charts of estimated cover step by as much. */
const EYE_HALF_WIDTH = 0.1;

export function keepTestPatches(ports: TestPatchPorts): TestPatches {
  const { ledger } = ports;
  const zoneOf = async (id: string): Promise<Outcome<JobZone>> => {
    const zone = await ledger.zones.find(id);
    return zone === null ? absent('zone', id) : success(zone);
  };
  return {
    async list(zoneId) {
      const zone = await zoneOf(zoneId);
      return zone.ok ? success({ items: [...(await ledger.testPatches.ofZone(zoneId))] }) : zone;
    },
    async add(zoneId, body, actor) {
      const zone = await zoneOf(zoneId);
      return zone.ok ? addPatch(zone.value, body, { actor, ports }) : zone;
    },
    async remove(id) {
      return (await ledger.testPatches.remove(id)) ? success(null) : absent('test patch', id);
    },
    async advise(zoneId) {
      const zone = await zoneOf(zoneId);
      if (!zone.ok) return zone;
      const advising = await adviseZone(zone.value, await ledger.testPatches.ofZone(zoneId), ports);
      if (advising.ok) return advising;
      return success({ ...(await zoneNow(zone.value, ports)), advice: null, whyNone: faultSentence(advising.fault) });
    },
  };
}

async function addPatch(
  zone: JobZone,
  body: z.output<typeof newZonePatchSchema>,
  { actor, ports }: { actor: Actor; ports: TestPatchPorts },
): Promise<Outcome<ZonePatch>> {
  const { ledger, clock, tokens } = ports;
  const id = body.id ?? tokens.newId();
  const stored = await ledger.testPatches.find(id);
  if (stored !== null) return success(stored);
  const now = await zoneNow(zone, ports);
  const machineId = body.machineId ?? now.machineId;
  const fitting = await checkDials({ settings: body.settings, machineId }, ledger);
  if (!fitting.ok) return fitting;
  const outcome = await outcomeOf(body.outcome, ports);
  if (!outcome.ok) return outcome;
  const made = { id, createdAt: nowOf(clock), createdBy: actor.id };
  const { settings, scrapeTest } = body;
  const patch = {
    ...outcome.value,
    zoneId: zone.id,
    afterRound: now.afterRound,
    settings,
    machineId,
    scrapeTest,
    heatTint: body.heatTint ?? outcome.value.heatTint,
  };
  const together = [...(await ledger.testPatches.ofZone(zone.id)), { ...patch, ...made, createdBy: null }];
  const advising = await adviseZone(zone, together, ports);
  if (!advising.ok) return failure(faultOfPatch(advising.fault));
  await ledger.testPatches.add({ ...patch, ...made });
  const added = await ledger.testPatches.find(id);
  return added === null ? absent('test patch', id) : success(added);
}

/** What cannot be of a patch is told of the patch, not of the history that it was to join. */
const faultOfPatch = (fault: Fault): Fault =>
  fault.code === 'history-malformed' && fault.path.startsWith('testPatches')
    ? { code: 'patch-contradictory', detail: fault.detail }
    : fault;

type Outcomes = Pick<ZonePatch, 'how' | 'residue' | 'comparisonId' | 'heatTint' | 'travelSpeedMmPerS'>;

async function outcomeOf(
  outcome: z.output<typeof newZonePatchSchema>['outcome'],
  { ledger }: TestPatchPorts,
): Promise<Outcome<Outcomes>> {
  if (outcome.how === 'by eye') {
    const { how, residueFraction: share } = outcome;
    const residue = measuredShare(share, Math.max(0, share - EYE_HALF_WIDTH), Math.min(1, share + EYE_HALF_WIDTH));
    return success({ how, residue, comparisonId: null, heatTint: null, travelSpeedMmPerS: null });
  }
  const { how, comparisonId } = outcome;
  const comparison = await ledger.comparisons.find(comparisonId);
  if (comparison === null) return absent('comparison', comparisonId);
  const side: ComparedSide | undefined = comparison.sides.at(0);
  if (side?.surface === undefined || side.surface === null) {
    return failure({ code: 'state-conflict', detail: 'the patch is not measured yet; wait until it is' });
  }
  return success({
    how,
    residue: side.surface.residue,
    comparisonId,
    heatTint: hasHeatTint(side.surface),
    travelSpeedMmPerS: surelyMoving(side.streaks?.travelSpeedMmPerS),
  });
}
