import type { z } from 'zod';
import type { Page } from '../domain/api/paging.ts';
import type { Outline, PhotoRole } from '../domain/api/photos.ts';
import type { newRoundSchema, roundChangeSchema, roundsQuerySchema, ZoneRound } from '../domain/api/rounds.ts';
import { success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';
import { absent } from './absent.ts';
import type { Ledger, Tables } from './ledger.ts';
import { nowOf } from './moments.ts';
import type { Actor, Clock, TokenMaker } from './people-ports.ts';
import { settleStanding } from './standing-of.ts';

export interface RoundPorts {
  readonly ledger: Pick<Ledger, 'rounds' | 'zones' | 'jobs' | 'machines' | 'cards' | 'transact'>;
  readonly tokens: Pick<TokenMaker, 'newId'>;
  readonly clock: Clock;
}

export interface Rounds {
  list(zoneId: string, query: z.output<typeof roundsQuerySchema>): Promise<Outcome<Page<ZoneRound>>>;
  read(id: string): Promise<Outcome<ZoneRound>>;
  add(zoneId: string, body: z.output<typeof newRoundSchema>, actor: Actor): Promise<Outcome<ZoneRound>>;
  change(id: string, change: z.output<typeof roundChangeSchema>): Promise<Outcome<ZoneRound>>;
  /** Puts a stored photo in its place, or empties the place. */
  setPhoto(
    id: string,
    role: PhotoRole,
    photo: { id: string; outline: Outline | null } | null,
  ): Promise<Outcome<ZoneRound>>;
  moveOutline(id: string, role: PhotoRole, outline: Outline | null): Promise<Outcome<ZoneRound>>;
  remove(id: string): Promise<Outcome<null>>;
}

export function keepRounds(ports: RoundPorts): Rounds {
  const { ledger, clock } = ports;
  const read = async (id: string): Promise<Outcome<ZoneRound>> => {
    const round = await ledger.rounds.find(id);
    return round === null ? absent('round', id) : success(round);
  };
  const setPhoto: Rounds['setPhoto'] = async (id, role, photo) => {
    const reading = await read(id);
    if (!reading.ok) return reading;
    await ledger.transact(async (tables) => {
      await tables.rounds.setPhoto(id, role, photo);
      await touchRound(tables, reading.value, nowOf(clock));
    });
    return read(id);
  };
  return {
    read,
    setPhoto,
    async list(zoneId, query) {
      if ((await ledger.zones.find(zoneId)) === null) return absent('zone', zoneId);
      return success(await ledger.rounds.list(zoneId, query));
    },
    async add(zoneId, body, actor) {
      const id = body.id ?? ports.tokens.newId();
      const adding = await ledger.transact((tables) => addRound({ ...body, id, zoneId }, actor, { tables, clock }));
      return adding.ok ? read(id) : adding;
    },
    async change(id, change) {
      const checking = await checkReferences(change, ledger);
      if (!checking.ok) return checking;
      const reading = await read(id);
      if (!reading.ok) return reading;
      await ledger.transact(async (tables) => {
        await tables.rounds.change(id, change, nowOf(clock));
        await touchRound(tables, reading.value, nowOf(clock));
      });
      return read(id);
    },
    async moveOutline(id, role, outline) {
      const reading = await read(id);
      if (!reading.ok) return reading;
      const place = reading.value[role];
      return place === null
        ? absent(`${role} photo of round`, id)
        : setPhoto(id, role, { id: place.photo.id, outline });
    },
    remove: (id) => ledger.transact((tables) => removeRound(id, tables)),
  };
}

async function addRound(
  body: z.output<typeof newRoundSchema> & { id: string; zoneId: string },
  actor: Actor,
  { tables, clock }: { tables: Tables; clock: Clock },
): Promise<Outcome<null>> {
  const zone = await tables.zones.find(body.zoneId);
  if (zone === null) return absent('zone', body.zoneId);
  const checking = await checkReferences(body, tables);
  if (!checking.ok) return checking;
  const createdAt = nowOf(clock);
  const isNew = await tables.rounds.add({
    ...body,
    machineId: body.machineId ?? zone.machineId,
    createdAt,
    createdBy: actor.id,
  });
  if (!isNew) return success(null);
  if (zone.standing === 'not started') await tables.zones.setStanding(zone.id, 'in work');
  await tables.zones.touch(zone.id, createdAt);
  await tables.jobs.touch(zone.jobId, createdAt);
  return success(null);
}

async function removeRound(id: string, tables: Tables): Promise<Outcome<null>> {
  const round = await tables.rounds.find(id);
  if (round === null) return absent('round', id);
  await tables.rounds.remove(id);
  const zone = await tables.zones.find(round.zoneId);
  if (zone !== null) await settleStanding(zone, tables);
  return success(null);
}

async function touchRound(tables: Tables, round: ZoneRound, at: string): Promise<void> {
  await tables.rounds.change(round.id, {}, at);
  await tables.zones.touch(round.zoneId, at);
  await tables.jobs.touch(round.jobId, at);
}

async function checkReferences(
  { machineId, cardId }: { machineId?: string | null | undefined; cardId?: string | null | undefined },
  { machines, cards }: Pick<Tables, 'machines' | 'cards'>,
): Promise<Outcome<null>> {
  if (typeof machineId === 'string' && (await machines.find(machineId)) === null) return absent('machine', machineId);
  if (typeof cardId === 'string' && (await cards.find(cardId)) === null) return absent('card', cardId);
  return success(null);
}
