import type { z } from 'zod';
import type { Page } from '../domain/api/paging.ts';
import type { JobZone, newZoneSchema, zoneChangeSchema, zonesQuerySchema } from '../domain/api/zones.ts';
import { success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';
import { gradeTitle, matchTarget } from '../measure/grade/match-target.ts';
import { absent } from './absent.ts';
import type { Ledger, Tables } from './ledger.ts';
import { nowOf } from './moments.ts';
import type { Actor, Clock, TokenMaker } from './people-ports.ts';
import { signedRecordStands } from './signed-record-stands.ts';

export interface ZonePorts {
  readonly ledger: Pick<Ledger, 'jobs' | 'zones' | 'machines' | 'records' | 'transact'>;
  readonly tokens: Pick<TokenMaker, 'newId' | 'newLabelCode'>;
  readonly clock: Clock;
}

export interface Zones {
  list(query: z.output<typeof zonesQuerySchema>): Promise<Page<JobZone>>;
  read(id: string): Promise<Outcome<JobZone>>;
  findByLabel(labelCode: string): Promise<Outcome<JobZone>>;
  add(jobId: string, body: z.output<typeof newZoneSchema>, actor: Actor): Promise<Outcome<JobZone>>;
  change(id: string, change: z.output<typeof zoneChangeSchema>): Promise<Outcome<JobZone>>;
  remove(id: string): Promise<Outcome<null>>;
}

export function keepZones(ports: ZonePorts): Zones {
  const { ledger, clock } = ports;
  const read = async (id: string): Promise<Outcome<JobZone>> => {
    const zone = await ledger.zones.find(id);
    return zone === null ? absent('zone', id) : success(zone);
  };
  return {
    read,
    list: (query) => ledger.zones.list(query),
    async findByLabel(labelCode) {
      const zone = await ledger.zones.findByLabel(labelCode);
      return zone === null ? absent('label', labelCode) : success(zone);
    },
    async add(jobId, body, actor) {
      const id = body.id ?? ports.tokens.newId();
      const adding = await ledger.transact((tables) => addZone({ ...body, id, jobId }, actor, { tables, ports }));
      return adding.ok ? read(id) : adding;
    },
    async change(id, change) {
      const checking = await checkReferences(change, ledger);
      if (!checking.ok) return checking;
      const isThere = await ledger.zones.change(id, { ...change, targetGrade: checking.value.targetGrade });
      if (isThere) await ledger.zones.touch(id, nowOf(clock));
      return read(id);
    },
    remove: (id) =>
      ledger.transact(async ({ zones, records }) => {
        if (await records.hasSigned({ zoneId: id })) return signedRecordStands('zone');
        return (await zones.remove(id)) ? success(null) : absent('zone', id);
      }),
  };
}

async function addZone(
  body: z.output<typeof newZoneSchema> & { id: string; jobId: string },
  actor: Actor,
  { tables, ports }: { tables: Tables; ports: ZonePorts },
): Promise<Outcome<null>> {
  const { tokens, clock } = ports;
  if ((await tables.jobs.find(body.jobId)) === null) return absent('job', body.jobId);
  const checking = await checkReferences(body, tables);
  if (!checking.ok) return checking;
  const createdAt = nowOf(clock);
  const zone = { ...body, targetGrade: checking.value.targetGrade ?? null, createdAt, createdBy: actor.id };
  // A label code that is taken already (once in 10^12 pairs) is drawn again; an id that is taken was sent twice.
  while (!(await tables.zones.add({ ...zone, labelCode: tokens.newLabelCode() }))) {
    if ((await tables.zones.find(body.id)) !== null) return success(null);
  }
  await tables.jobs.touch(body.jobId, createdAt);
  return success(null);
}

/** The target in its usual spelling; the machine must be there. */
async function checkReferences(
  { targetGrade, machineId }: { targetGrade?: string | null | undefined; machineId?: string | null | undefined },
  { machines }: Pick<Tables, 'machines'>,
): Promise<Outcome<{ targetGrade: string | null | undefined }>> {
  if (machineId !== null && machineId !== undefined && (await machines.find(machineId)) === null) {
    return absent('machine', machineId);
  }
  if (targetGrade === null || targetGrade === undefined) return success({ targetGrade });
  const matching = matchTarget(targetGrade);
  return matching.ok ? success({ targetGrade: gradeTitle(matching.value) }) : matching;
}
