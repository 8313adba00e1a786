import type { ReadingEntry } from '@domain/api/records.ts';
import { INSTRUMENT_VALUE, READING_VALUES } from '@domain/readings.ts';
import { readNumber } from '@domain/read-number.ts';
import type { Climate, SolubleSalts, TypedReadings } from '@domain/readings.ts';
import { US_UNITS, US_UNIT_OF_FIELD, readNumbers } from '@domain/us-customary.ts';
import type { UnitSystem } from '../../units/shown-units.ts';
import { QUANTITY_FIELDS } from './shown-quantities.ts';
import type { QuantityName, ShownQuantity } from './shown-quantities.ts';

export type ReadingGroup = keyof typeof READING_VALUES | 'instruments';
export type FormReadings = { readonly body: ReadingEntry } | { readonly wrong: ReadingGroup };

/** How the form stands: the units that are typed in, and the kept quantities as it shows them. */
export interface FormLook {
  readonly system: UnitSystem;
  readonly shown: Readonly<Record<QuantityName, ShownQuantity>>;
}
/** What a field says now. */
export type FieldText = (name: string) => string;

const textIn = (entries: FormData, name: string): string => {
  const value = entries.get(name);
  return typeof value === 'string' ? value.trim() : '';
};

/**
 * What a form of readings says; a group that is left empty was not read. A group that is half filled or out of its range is
 * named instead.
 */
export function readReadings(entries: FormData, look: FormLook): FormReadings {
  const text: FieldText = (name) => textIn(entries, name);
  const number = (name: string): number | null | undefined => readNumber(text(name));
  const typed = {
    climate: climateOf(text, look),
    surfaceProfile: profileOf(text, look),
    dust: allOrNone({ quantityRating: number('dustQuantity'), sizeClass: number('dustSize') }),
    solubleSalts: saltsOf(text, look),
    scrapeTest: allOrNone({ result: text('scrapeResult'), where: text('scrapeWhere') }),
    timeSinceCleaning: allOrNone({ minutes: number('cleanedMinutes'), flashRust: text('flashRust') }),
  };
  for (const group of Object.keys(READING_VALUES) as (keyof typeof READING_VALUES)[]) {
    if (typed[group] !== null && !READING_VALUES[group].safeParse(typed[group]).success) return { wrong: group };
  }
  const instruments = instrumentsOf(entries);
  if (!instruments.every((instrument) => INSTRUMENT_VALUE.safeParse(instrument).success)) {
    return { wrong: 'instruments' };
  }
  const remarks = text('remarks')
    .split('\n')
    .map((remark) => ({ text: remark.trim() }))
    .filter((remark) => remark.text !== '');
  const words = wordsOf(text, look);
  return {
    body: {
      ...(typed as ReadingEntry),
      instruments: instruments as ReadingEntry['instruments'],
      remarks,
      ...(Object.keys(words).length === 0 ? {} : { typed: words }),
    },
  };
}

type Cell = string | number | null | undefined;

/** Null when every cell is empty. */
function allOrNone<Row extends Record<string, Cell>>(row: Row): Row | null {
  return Object.values(row).every((cell) => cell === null || cell === '') ? null : row;
}

/** One quantity in the record's own unit: as kept where its field still shows that, else as typed. */
function quantitiesOf(name: QuantityName, text: string, { system, shown }: FormLook): (number | null | undefined)[] {
  const kept = shown[name];
  if (text === kept.text) return [...kept.values];
  const numbers = name === 'profileReadings' ? readNumbers(text) : [readNumber(text)];
  if (system !== 'inches') return numbers;
  const { toMetric } = US_UNITS[US_UNIT_OF_FIELD[QUANTITY_FIELDS[name]]];
  return numbers.map((number) => (typeof number === 'number' ? toMetric(number) : number));
}

/** Null where nothing is typed and nothing kept. */
function quantityOf(name: QuantityName, text: FieldText, look: FormLook): number | null | undefined {
  const quantities = quantitiesOf(name, text(name), look);
  return quantities.length === 0 ? null : quantities[0];
}

function climateOf(text: FieldText, look: FormLook): Record<string, Cell> | null {
  const percent = readNumber(text('relativeHumidityPercent'));
  const readings = allOrNone({
    airTemperatureC: quantityOf('airTemperature', text, look),
    surfaceTemperatureC: quantityOf('surfaceTemperature', text, look),
    relativeHumidity: typeof percent === 'number' ? percent / 100 : percent,
  });
  return readings === null ? null : { ...readings, uncertainty: null };
}

/** Water and patch have usual sizes filled in: the rise decides whether salts were read. */
function saltsOf(text: FieldText, look: FormLook): Record<string, Cell> | null {
  const rise = readNumber(text('saltsRise'));
  if (rise === null) return null;
  return {
    conductivityRiseUsPerCm: rise,
    waterVolumeMl: readNumber(text('saltsWater')),
    patchAreaMm2: quantityOf('saltsPatch', text, look),
  };
}

/** Air and steel as the fields stand, before anything is kept; null while they are not complete or out of their range. */
export function climateNow(text: FieldText, look: FormLook): Climate | null {
  const parsed = READING_VALUES.climate.safeParse(climateOf(text, look));
  return parsed.success ? parsed.data : null;
}

export function saltsNow(text: FieldText, look: FormLook): SolubleSalts | null {
  const parsed = READING_VALUES.solubleSalts.safeParse(saltsOf(text, look));
  return parsed.success ? parsed.data : null;
}

function profileOf(text: FieldText, look: FormLook): object | null {
  const method = text('profileMethod');
  if (method === '') return null;
  if (method === 'grit' || method === 'shot') {
    return { method: 'comparator', comparator: method, word: text('profileWord') };
  }
  return { method, readingsUm: quantitiesOf('profileReadings', text('profileReadings'), look) };
}

/** Word for word what was typed in another unit than the record's, by group and field. */
function wordsOf(text: FieldText, look: FormLook): TypedReadings {
  const fieldWords = (...names: readonly QuantityName[]): Record<string, string> =>
    Object.fromEntries(
      names.flatMap((name) => {
        const typed = text(name);
        const isKept = typed === look.shown[name].text;
        const unit = US_UNIT_OF_FIELD[QUANTITY_FIELDS[name]];
        const words = isKept ? look.shown[name].typed : look.system === 'inches' ? `${typed} ${unit}` : undefined;
        return typed === '' || words === undefined ? [] : [[QUANTITY_FIELDS[name], words]];
      }),
    );
  const method = text('profileMethod');
  const groups = {
    climate: fieldWords('airTemperature', 'surfaceTemperature'),
    surfaceProfile: method === 'stylus' || method === 'replica tape' ? fieldWords('profileReadings') : {},
    solubleSalts: text('saltsRise') === '' ? {} : fieldWords('saltsPatch'),
  };
  return Object.fromEntries(Object.entries(groups).filter(([, words]) => Object.keys(words).length > 0));
}

function instrumentsOf(entries: FormData): object[] {
  const column = (name: string): string[] =>
    entries.getAll(name).map((value) => (typeof value === 'string' ? value.trim() : ''));
  const [kinds, serials, days, uses] = ['instrumentKind', 'serialNumber', 'calibratedOn', 'usedFor'].map(column);
  return kinds
    .map((kind, row) => ({ kind, serialNumber: serials[row], calibratedOn: days[row] || null, usedFor: uses[row] }))
    .filter(({ kind, serialNumber, usedFor }) => kind !== '' || serialNumber !== '' || usedFor !== '');
}
