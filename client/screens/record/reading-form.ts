import type { ReadingEntry } from '@domain/api/records.ts';
import { INSTRUMENT_VALUE, READING_VALUES } from '@domain/readings.ts';
import { readNumber } from '../../units/read-number.ts';

export type ReadingGroup = keyof typeof READING_VALUES | 'instruments';
export type TypedReadings = { readonly body: ReadingEntry } | { readonly wrong: ReadingGroup };

const textIn = (entries: FormData, name: string): string => {
  const value = entries.get(name);
  return typeof value === 'string' ? value.trim() : '';
};

/**
 * What a form of readings says; a group that is left empty was not read. A group that is half filled or out of its range is
 * named instead.
 */
export function readReadings(entries: FormData): TypedReadings {
  const number = (name: string): number | null | undefined => readNumber(textIn(entries, name));
  const typed = {
    climate: climateOf(entries),
    surfaceProfile: profileOf(entries),
    dust: allOrNone({ quantityRating: number('dustQuantity'), sizeClass: number('dustSize') }),
    // Water and patch have usual sizes filled in: the rise decides whether salts were read.
    solubleSalts:
      number('saltsRise') === null
        ? null
        : {
            conductivityRiseUsPerCm: number('saltsRise'),
            waterVolumeMl: number('saltsWater'),
            patchAreaMm2: number('saltsPatch'),
          },
    scrapeTest: allOrNone({ result: textIn(entries, 'scrapeResult'), where: textIn(entries, 'scrapeWhere') }),
    timeSinceCleaning: allOrNone({ minutes: number('cleanedMinutes'), flashRust: textIn(entries, 'flashRust') }),
  };
  for (const group of Object.keys(READING_VALUES) as (keyof typeof READING_VALUES)[]) {
    if (typed[group] !== null && !READING_VALUES[group].safeParse(typed[group]).success) return { wrong: group };
  }
  const instruments = instrumentsOf(entries);
  if (!instruments.every((instrument) => INSTRUMENT_VALUE.safeParse(instrument).success)) {
    return { wrong: 'instruments' };
  }
  const remarks = textIn(entries, 'remarks')
    .split('\n')
    .map((text) => ({ text: text.trim() }))
    .filter(({ text }) => text !== '');
  return { body: { ...(typed as ReadingEntry), instruments: instruments as ReadingEntry['instruments'], remarks } };
}

type Cell = string | number | null | undefined;

/** Null when every cell is empty. */
function allOrNone<Row extends Record<string, Cell>>(row: Row): Row | null {
  return Object.values(row).every((cell) => cell === null || cell === '') ? null : row;
}

function climateOf(entries: FormData): Record<string, Cell> | null {
  const number = (name: string): number | null | undefined => readNumber(textIn(entries, name));
  const percent = number('relativeHumidityPercent');
  const readings = allOrNone({
    airTemperatureC: number('airTemperatureC'),
    surfaceTemperatureC: number('surfaceTemperatureC'),
    relativeHumidity: typeof percent === 'number' ? percent / 100 : percent,
  });
  return readings === null ? null : { ...readings, uncertainty: null };
}

function profileOf(entries: FormData): object | null {
  const method = textIn(entries, 'profileMethod');
  if (method === '') return null;
  if (method === 'grit' || method === 'shot') {
    return { method: 'comparator', comparator: method, word: textIn(entries, 'profileWord') };
  }
  return { method, readingsUm: readNumbers(textIn(entries, 'profileReadings')) };
}

/** Numbers with spaces or semicolons between; a comma at the end of one is taken as a separator too. */
const readNumbers = (text: string): (number | null | undefined)[] =>
  text
    .split(/[\s;]+/)
    .map((part) => part.replace(/,$/, ''))
    .filter((part) => part !== '')
    .map(readNumber);

function instrumentsOf(entries: FormData): object[] {
  const column = (name: string): string[] =>
    entries.getAll(name).map((value) => (typeof value === 'string' ? value.trim() : ''));
  const [kinds, serials, days, uses] = ['instrumentKind', 'serialNumber', 'calibratedOn', 'usedFor'].map(column);
  return kinds
    .map((kind, row) => ({ kind, serialNumber: serials[row], calibratedOn: days[row] || null, usedFor: uses[row] }))
    .filter(({ kind, serialNumber, usedFor }) => kind !== '' || serialNumber !== '' || usedFor !== '');
}
