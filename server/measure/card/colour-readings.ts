import { failure, success } from '../../domain/index.ts';
import type { Outcome } from '../../domain/index.ts';
import type { CgatsLine, CgatsTable } from './cgats-tables.ts';

/** One row's colour: Lab as given, or XYZ with Y = 1 for the white of the illuminant. */
export interface ColourReading {
  readonly line: number;
  readonly space: 'Lab' | 'XYZ';
  readonly values: readonly [number, number, number];
}

export interface ColourColumns {
  readonly space: ColourReading['space'];
  readonly columns: readonly [number, number, number];
  /** Columns that may hold the sample's name, best first. */
  readonly names: readonly number[];
}

export interface ColourReadings {
  readonly colours: ReadonlyMap<string, readonly ColourReading[]>;
  readonly assumed: readonly string[];
}

const NAME_FIELDS = ['SAMPLE_ID', 'SAMPLE_NAME', 'SAMPLEID', 'SAMPLENAME', 'SAMPLE_LOC'];
const COLOUR_FIELDS = { Lab: ['LAB_L', 'LAB_A', 'LAB_B'], XYZ: ['XYZ_X', 'XYZ_Y', 'XYZ_Z'] } as const;
const NUMBER = /^[-+]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d{1,3})?$/i;
const DECIMAL_COMMA = /^[-+]?\d*,\d+$/;
/**
 * Values that a print can have, with room for an instrument's noise around zero and 100. XYZ by the scale of the file:
 * the whitest patch of a card reflects well over half, so its Y tells 0..1 from 0..100.
 */
const LAB_RANGES = [
  [-0.5, 100.5],
  [-150, 150],
  [-150, 150],
] as const;
const XYZ_RANGE = [-0.5, 150] as const;
const UNIT_SCALE_MOST_Y = 1.2;
const HUNDRED_SCALE_LEAST_Y = 20;

/** Where a table keeps names and colours; Lab is preferred where both are there. Null when it lacks either. */
export function findColourColumns({ fields }: CgatsTable): ColourColumns | null {
  const plain = fields.map((field) => field.toUpperCase());
  const names = NAME_FIELDS.map((field) => plain.indexOf(field)).filter((column) => column >= 0);
  if (names.length === 0) return null;
  for (const space of ['Lab', 'XYZ'] as const) {
    const [first, second, third] = COLOUR_FIELDS[space].map((field) => plain.indexOf(field));
    if (first >= 0 && second >= 0 && third >= 0) return { space, columns: [first, second, third], names };
  }
  return null;
}

/**
 * Reads the rows that belong to known samples.
 * @param idOf the sample that a name in the file means; null for others, which are passed over
 */
export function readColours(table: CgatsTable, idOf: (name: string) => string | null): Outcome<ColourReadings> {
  const found = findColourColumns(table);
  if (found === null) throw new Error('Expected a table with colour columns');
  const broken = brokenShape(table);
  if (broken !== null) return broken;
  const nameColumn = bestNameColumn(table, found.names, idOf);
  const colours = new Map<string, ColourReading[]>();
  let hasDecimalComma = false;
  for (const row of table.rows) {
    const id = idOf(row.words[nameColumn]);
    if (id === null) continue;
    const values = readRow(row, table.fields, found);
    if (!values.ok) return values;
    hasDecimalComma ||= found.columns.some((column) => row.words[column].includes(','));
    const known = colours.get(id) ?? [];
    colours.set(id, [...known, { line: row.line, space: found.space, values: values.value }]);
  }
  const assumed = hasDecimalComma ? ['Commas in numbers are taken as decimal commas'] : [];
  return found.space === 'Lab' ? success({ colours, assumed }) : scaleXyz(colours, assumed);
}

const malformed = (line: number, detail: string): ReturnType<typeof failure> =>
  failure({ code: 'card-values-malformed', line, detail });

function brokenShape({ header, fields, rows, endLine }: CgatsTable): ReturnType<typeof failure> | null {
  for (const { line, words } of rows) {
    if (words.length !== fields.length) {
      return malformed(line, `expected ${fields.length} values in the row but found ${words.length}`);
    }
  }
  const lastLine = rows.at(-1)?.line ?? 1;
  if (endLine === null) return malformed(lastLine, 'END_DATA is missing, so the file may be cut short');
  const declared = header.findLast(({ words }) => words[0].toUpperCase() === 'NUMBER_OF_SETS');
  if (declared === undefined || Number(declared.words[1]) === rows.length) return null;
  return malformed(
    declared.line,
    `NUMBER_OF_SETS is ${declared.words[1] ?? 'empty'} but there are ${rows.length} rows`,
  );
}

/** The column with the most known names: some programs number SAMPLE_ID and put the name into SAMPLE_NAME. */
function bestNameColumn(
  { rows }: CgatsTable,
  columns: readonly number[],
  idOf: (name: string) => string | null,
): number {
  const hits = (column: number): number => rows.filter(({ words }) => idOf(words[column]) !== null).length;
  return columns.reduce((best, column) => (hits(column) > hits(best) ? column : best));
}

function readRow(
  { line, words }: CgatsLine,
  fields: readonly string[],
  { space, columns }: ColourColumns,
): Outcome<[number, number, number]> {
  const values: [number, number, number] = [0, 0, 0];
  for (const index of [0, 1, 2] as const) {
    const word = words[columns[index]];
    const value = parseNumber(word);
    const [least, most] = space === 'Lab' ? LAB_RANGES[index] : XYZ_RANGE;
    const field = fields[columns[index]];
    if (value === null) return malformed(line, `${field} is "${word}", which is not a number`);
    if (value < least || value > most) {
      return malformed(line, `${field} is ${word}, expected ${least} to ${most}`);
    }
    values[index] = value;
  }
  return success(values);
}

function parseNumber(word: string): number | null {
  if (DECIMAL_COMMA.test(word)) return Number(word.replace(',', '.'));
  return NUMBER.test(word) ? Number(word) : null;
}

function scaleXyz(
  colours: ReadonlyMap<string, readonly ColourReading[]>,
  assumed: readonly string[],
): Outcome<ColourReadings> {
  const readings = [...colours.values()].flat();
  const brightest = readings.reduce<ColourReading | null>(
    (best, reading) => (best === null || reading.values[1] > best.values[1] ? reading : best),
    null,
  );
  if (brightest === null) return success({ colours, assumed });
  const most = brightest.values[1];
  const isUnitScale = most <= UNIT_SCALE_MOST_Y;
  if (!isUnitScale && most < HUNDRED_SCALE_LEAST_Y) {
    return malformed(brightest.line, `the largest XYZ_Y is ${most}, which fits neither a 0..1 nor a 0..100 scale`);
  }
  const factor = isUnitScale ? 1 : 0.01;
  const scaled = [...colours].map(([id, list]): [string, ColourReading[]] => [
    id,
    list.map((reading) => {
      const [X, Y, Z] = reading.values;
      return { ...reading, values: [X * factor, Y * factor, Z * factor] as const };
    }),
  ]);
  const notes = isUnitScale ? ['XYZ is taken as 0..1, since no value exceeds it'] : [];
  return success({ colours: new Map(scaled), assumed: [...assumed, ...notes] });
}
