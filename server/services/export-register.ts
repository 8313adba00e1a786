import { MOST_PAGE_ITEMS } from '../domain/api/paging.ts';
import type { ShopCard } from '../domain/api/cards.ts';
import type { ExportTable } from './export-tables.ts';
import type { Ledger } from './ledger.ts';
import type { TableRow } from './table-lines.ts';

type RegisterTables = Pick<Ledger, 'records' | 'cards' | 'assessments'>;

/** Instruments as records name them, and printed cards: what was calibrated when, and how the cards hold. */
export const registerTable = (tables: RegisterTables): ExportTable => ({
  names: [
    ...['kind', 'name', 'serialNumber', 'calibratedOn', 'usedFor', 'uses', 'lastUsedAt', 'isPutAway', 'edition'],
    ...['measuredWith', 'driftMedianDeltaE00', 'driftMaxDeltaE00', 'firstColourErrorMedianDeltaE00'],
    ...['lastColourErrorMedianDeltaE00', 'worstColourErrorMedianDeltaE00'],
  ],
  async *rows() {
    yield* await instruments(tables);
    let cursor: string | undefined;
    do {
      const page = await tables.cards.list({ sort: 'name', putAway: 'all', limit: MOST_PAGE_ITEMS, cursor });
      for (const card of page.items) yield await cardRow(card, tables);
      cursor = page.nextCursor ?? undefined;
    } while (cursor !== undefined);
  },
});

interface Instrument {
  kind: string;
  serialNumber: string;
  /** The newest that was entered. */
  calibratedOn: string | null;
  readonly usedFor: Set<string>;
  uses: number;
  lastUsedAt: string;
}

async function instruments({ records }: RegisterTables): Promise<TableRow[]> {
  const known = new Map<string, Instrument>();
  let cursor: string | undefined;
  do {
    const page = await records.list({ sort: 'createdAt', limit: MOST_PAGE_ITEMS, cursor });
    for (const { id } of page.items) {
      const record = await records.find(id);
      for (const entry of record?.readings.instruments ?? []) noteUse(known, entry);
    }
    cursor = page.nextCursor ?? undefined;
  } while (cursor !== undefined);
  return [...known.values()].map(({ kind, usedFor, ...instrument }) => ({
    ...instrument,
    kind: 'instrument',
    name: kind,
    usedFor: [...usedFor].join('; '),
  }));
}

type InstrumentEntry = NonNullable<Awaited<ReturnType<Ledger['records']['find']>>>['readings']['instruments'][number];

function noteUse(known: Map<string, Instrument>, { value, at }: InstrumentEntry): void {
  const key = JSON.stringify([value.kind, value.serialNumber]);
  const instrument = known.get(key) ?? {
    kind: value.kind,
    serialNumber: value.serialNumber,
    calibratedOn: value.calibratedOn,
    usedFor: new Set<string>(),
    uses: 0,
    lastUsedAt: at,
  };
  instrument.usedFor.add(value.usedFor);
  instrument.uses++;
  if (at > instrument.lastUsedAt) instrument.lastUsedAt = at;
  if (value.calibratedOn !== null && (instrument.calibratedOn ?? '') < value.calibratedOn) {
    instrument.calibratedOn = value.calibratedOn;
  }
  known.set(key, instrument);
}

async function cardRow(card: ShopCard, { assessments }: RegisterTables): Promise<TableRow> {
  const errors: { median: number; at: string }[] = [];
  let cursor: string | undefined;
  do {
    const page = await assessments.cardReadings(card.id, { sort: 'at', limit: MOST_PAGE_ITEMS, cursor });
    errors.push(...page.items.map(({ at, colourErrorDeltaE00 }) => ({ at, median: colourErrorDeltaE00.median })));
    cursor = page.nextCursor ?? undefined;
  } while (cursor !== undefined);
  const worst = errors.reduce<number | null>((most, { median }) => Math.max(most ?? 0, median), null);
  return {
    kind: 'card',
    name: card.name,
    calibratedOn: card.values?.measuredOn ?? null,
    usedFor: 'colour and scale in photos',
    uses: errors.length,
    lastUsedAt: errors.at(-1)?.at ?? null,
    isPutAway: card.isPutAway,
    edition: card.edition,
    measuredWith: card.values?.instrument ?? null,
    driftMedianDeltaE00: card.values?.drift.median ?? null,
    driftMaxDeltaE00: card.values?.drift.max ?? null,
    firstColourErrorMedianDeltaE00: errors.at(0)?.median ?? null,
    lastColourErrorMedianDeltaE00: errors.at(-1)?.median ?? null,
    worstColourErrorMedianDeltaE00: worst,
  };
}
