import type { z } from 'zod';
import type { Page } from '../domain/api/paging.ts';
import type { ReadingEntry, RecordSummary, recordsQuerySchema, ZoneRecord } from '../domain/api/records.ts';
import { NO_READINGS, failure, success } from '../domain/index.ts';
import type { Outcome, Readings } from '../domain/index.ts';
import { filesOfRecord } from '../evidence/bundle/gather-bundle.ts';
import { canonicalJson } from '../evidence/canonical-json.ts';
import type { Sha256 } from '../evidence/ports.ts';
import { moveRecord } from '../evidence/record-state.ts';
import type { RecordAct } from '../evidence/record-state.ts';
import { absent } from './absent.ts';
import { recordPersonOf, writeAudit } from './audit-log.ts';
import { composeRecord } from './compose-record.ts';
import { enterReadings } from './enter-readings.ts';
import type { Ledger, Tables } from './ledger.ts';
import { nowOf } from './moments.ts';
import type { ObjectStore } from './object-ports.ts';
import type { Actor, Clock, TokenMaker } from './people-ports.ts';
import type { StoredRecord } from './record-ports.ts';
import { showRecord } from './show-record.ts';

export interface RecordPorts {
  readonly ledger: Ledger;
  readonly objects: Pick<ObjectStore, 'put'>;
  readonly tokens: Pick<TokenMaker, 'newId'>;
  readonly sha256: Sha256;
  readonly clock: Clock;
}

export interface Records {
  list(query: z.output<typeof recordsQuerySchema>): Promise<Page<RecordSummary>>;
  read(id: string): Promise<Outcome<ZoneRecord>>;
  start(zoneId: string, id: string | undefined, actor: Actor): Promise<Outcome<ZoneRecord>>;
  supersede(oldId: string, id: string | undefined, actor: Actor): Promise<Outcome<ZoneRecord>>;
  enter(id: string, typed: ReadingEntry, actor: Actor): Promise<Outcome<ZoneRecord>>;
  markReady(id: string, actor: Actor): Promise<Outcome<ZoneRecord>>;
  withdraw(id: string, actor: Actor): Promise<Outcome<ZoneRecord>>;
  removeDraft(id: string, actor: Actor): Promise<Outcome<null>>;
}

/** Records from the first reading to the moment they wait for a signature. */
export function keepRecords(ports: RecordPorts): Records {
  const { ledger, clock } = ports;
  const read = async (id: string): Promise<Outcome<ZoneRecord>> => {
    const stored = await ledger.records.find(id);
    return stored === null
      ? absent('record', id)
      : success(await showRecord(stored, { tables: ledger, objects: ports.objects }));
  };
  /** Does one act on one record, in one step with its row of the audit log. */
  const act = async (id: string, kind: RecordAct, work: Work): Promise<Outcome<ZoneRecord>> => {
    const acting = await ledger.transact(async (tables) => {
      const stored = await tables.records.find(id);
      if (stored === null) return absent('record', id);
      const moving = moveRecord(stored.state, kind);
      return moving.ok ? work(stored, tables) : moving;
    });
    return acting.ok ? read(id) : acting;
  };
  return {
    read,
    list: (query) => ledger.records.list(query),
    async start(zoneId, id, actor) {
      const starting = await ledger.transact((tables) => startRecord({ zoneId, id }, actor, { tables, ports }));
      return starting.ok ? read(starting.value) : starting;
    },
    async supersede(oldId, id, actor) {
      const starting = await ledger.transact((tables) => succeedRecord({ oldId, id }, actor, { tables, ports }));
      return starting.ok ? read(starting.value) : starting;
    },
    enter: (id, typed, actor) =>
      act(id, 'edit', async (stored, tables) => {
        const at = nowOf(clock);
        await tables.records.setReadings(id, enterReadings(stored.readings, typed, recordPersonOf(actor), at), at);
        const details = { entered: Object.keys(typed) };
        await writeAudit(tables, { by: actor, act: 'changed', subject: `record:${id}`, details }, ports);
        return success(null);
      }),
    markReady: (id, actor) => act(id, 'mark ready', (stored, tables) => makeReady(stored, actor, { tables, ports })),
    withdraw: (id, actor) =>
      act(id, 'withdraw', async (_stored, tables) => {
        await tables.records.takeBack(id, nowOf(clock));
        await writeAudit(tables, { by: actor, act: 'withdrew', subject: `record:${id}` }, ports);
        return success(null);
      }),
    removeDraft: (id, actor) =>
      ledger.transact(async (tables) => {
        const stored = await tables.records.find(id);
        if (stored === null) return absent('record', id);
        const moving = moveRecord(stored.state, 'edit');
        if (!moving.ok) return moving;
        await tables.records.removeDraft(id);
        await writeAudit(tables, { by: actor, act: 'removed', subject: `record:${id}` }, ports);
        return success(null);
      }),
  };
}

type Work = (stored: StoredRecord, tables: Tables) => Promise<Outcome<null>>;
interface Step {
  readonly tables: Tables;
  readonly ports: RecordPorts;
}

/** One open record a zone: asked for again, it is the same one. Where a signed one stands, it must be superseded. */
async function startRecord(
  { zoneId, id }: { zoneId: string; id: string | undefined },
  actor: Actor,
  { tables, ports }: Step,
): Promise<Outcome<string>> {
  if ((await tables.zones.find(zoneId)) === null) return absent('zone', zoneId);
  const open = await tables.records.findOpen(zoneId);
  if (open !== null) return success(open.id);
  if ((await tables.records.findStanding(zoneId)) !== null) {
    const detail = 'a signed record of this zone stands; an inspector can begin one that takes its place';
    return failure({ code: 'state-conflict', detail });
  }
  return addRecord({ zoneId, id, readings: await firstReadings(zoneId, tables), supersedesId: null }, actor, {
    tables,
    ports,
  });
}

async function succeedRecord(
  { oldId, id }: { oldId: string; id: string | undefined },
  actor: Actor,
  { tables, ports }: Step,
): Promise<Outcome<string>> {
  const old = await tables.records.find(oldId);
  if (old === null) return absent('record', oldId);
  const open = await tables.records.findOpen(old.zoneId);
  if (open?.supersedesId === oldId) return success(open.id);
  const moving = moveRecord(old.state, 'supersede');
  if (!moving.ok) return moving;
  return addRecord({ zoneId: old.zoneId, id, readings: old.readings, supersedesId: oldId }, actor, { tables, ports });
}

async function addRecord(
  {
    zoneId,
    id,
    readings,
    supersedesId,
  }: Pick<StoredRecord, 'zoneId' | 'readings' | 'supersedesId'> & { id: string | undefined },
  actor: Actor,
  { tables, ports }: Step,
): Promise<Outcome<string>> {
  const recordId = id ?? ports.tokens.newId();
  const made = { id: recordId, createdAt: nowOf(ports.clock), createdBy: actor.id };
  if (!(await tables.records.add({ ...made, zoneId, readings, supersedesId }))) return success(recordId);
  const details = { zoneId, supersedes: supersedesId };
  await writeAudit(tables, { by: actor, act: 'created', subject: `record:${recordId}`, details }, ports);
  return success(recordId);
}

/** What an operator noted with the last round need not be typed again. */
async function firstReadings(zoneId: string, { rounds, people }: Tables): Promise<Readings> {
  const { items } = await rounds.list(zoneId, { sort: '-number', limit: 1 });
  const round = items.at(0);
  if (round === undefined || round.scrapeTest === null || round.createdBy === null) return NO_READINGS;
  const person = await people.find(round.createdBy.id);
  if (person === null) return NO_READINGS;
  return {
    ...NO_READINGS,
    scrapeTest: {
      source: 'entered by a person',
      by: recordPersonOf(person),
      at: round.updatedAt,
      value: { result: round.scrapeTest, where: `noted with round ${round.number}; place not stated` },
    },
  };
}

/** Fixes what the record says and which files it stands on; from here on only its signature is added. */
async function makeReady(stored: StoredRecord, actor: Actor, { tables, ports }: Step): Promise<Outcome<null>> {
  const composing = await composeRecord(stored, { tables, objects: ports.objects });
  if (!composing.ok) return composing;
  const at = nowOf(ports.clock);
  const prepared = { ...composing.value, prepared: { by: recordPersonOf(actor), at } };
  const text = canonicalJson(prepared);
  await tables.records.makeReady(stored.id, { text, files: filesOfRecord(prepared) }, at);
  const details = { recordSha256: ports.sha256(new TextEncoder().encode(text)) };
  await writeAudit(tables, { by: actor, act: 'marked ready', subject: `record:${stored.id}`, details }, ports);
  return success(null);
}
