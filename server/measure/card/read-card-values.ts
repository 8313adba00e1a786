import { failure, success } from '../../domain/index.ts';
import type { LabD50, Outcome, ReferenceCard } from '../../domain/index.ts';
import { bradfordMatrix } from '../colour/chromatic-adaptation.ts';
import { labToXyz, xyzToLab } from '../colour/cie-lab.ts';
import { ciede2000 } from '../colour/ciede2000.ts';
import { applyColourMatrix } from '../colour/colour-matrix.ts';
import { WHITE_D50, whitePoint } from '../colour/white-point.ts';
import type { CgatsTable } from './cgats-tables.ts';
import { cgatsTables } from './cgats-tables.ts';
import type { ColourReading } from './colour-readings.ts';
import { findColourColumns, readColours } from './colour-readings.ts';
import type { MeasuringCondition, StatedCondition } from './measuring-condition.ts';
import { readMeasuringCondition } from './measuring-condition.ts';

/** Measured colours of one printed card, brought to D50 / 2 degrees. */
export interface CardValues {
  readonly patches: ReadonlyMap<string, LabD50>;
  /** Bare paper, when the file has a row for it. */
  readonly paper: LabD50 | null;
  /** What the file's own values are for. */
  readonly condition: MeasuringCondition;
  /** What was taken for granted, as sentences without a full stop. */
  readonly assumed: readonly string[];
}

/** Name of the optional row for bare paper. */
const PAPER_ID = 'PAPER';
/** A card has 49 rows; a file beyond this many characters is something else. */
const MOST_CHARACTERS = 1_000_000;
/** Readings of one patch further apart than this, CIEDE2000, are not repeats of one measurement (common practice). */
const MOST_REPEAT_DIFFERENCE = 3;

/**
 * Reads the measured values of a card from CGATS.17 text: the first table with a sample name and Lab or XYZ whose names
 * are patches of this card. Every patch must be there; repeated readings are averaged; other rows are passed over.
 * Source: [CGATS17].
 */
export function readCardValues(text: string, card: ReferenceCard): Outcome<CardValues> {
  if (text.length > MOST_CHARACTERS) {
    return malformed(1, `the file has ${text.length} characters, at most ${MOST_CHARACTERS} are read`);
  }
  const names = new Map([...card.patches.map((patch) => patch.id), PAPER_ID].map((id) => [plainName(id), id]));
  const tables = cgatsTables(text);
  const table = chooseTable(tables, names);
  if (table === null) {
    return malformed(
      1,
      'there is no table with SAMPLE_ID or SAMPLE_NAME and LAB_L, LAB_A, LAB_B or XYZ_X, XYZ_Y, XYZ_Z',
    );
  }
  const stated = conditionOf(table, tables);
  if (!stated.ok) return stated;
  const readings = readColours(table, (name) => names.get(plainName(name)) ?? null);
  if (!readings.ok) return readings;
  const missing = card.patches.map(({ id }) => id).filter((id) => !readings.value.colours.has(id));
  if (missing.length > 0) return failure({ code: 'card-values-mismatch', missing });

  const { condition } = stated.value;
  const assumed = [...stated.value.assumed, ...readings.value.assumed];
  if (condition.observerDegrees === 10) {
    assumed.push('Values of the 10 degree observer are brought to 2 degrees by their white alone');
  }
  const patches = new Map<string, LabD50>();
  for (const [id, colours] of readings.value.colours) {
    const mean = averageReadings(id, colours, condition);
    if (!mean.ok) return mean;
    patches.set(id, mean.value);
  }
  const paper = patches.get(PAPER_ID) ?? null;
  patches.delete(PAPER_ID);
  return success({ patches, paper, condition, assumed });
}

const malformed = (line: number, detail: string): ReturnType<typeof failure> =>
  failure({ code: 'card-values-malformed', line, detail });

/** "a01" and "A1" are one name. */
const plainName = (name: string): string =>
  name
    .trim()
    .toUpperCase()
    .replace(/^([A-Z]+)0+(?=\d)/, '$1');

/** The first table that names patches of this card; failing that, the first with colours at all. */
function chooseTable(tables: readonly CgatsTable[], names: ReadonlyMap<string, string>): CgatsTable | null {
  const withColours = tables.filter((table) => findColourColumns(table) !== null);
  const namesPatches = (table: CgatsTable): boolean =>
    table.rows.some(({ words }) => words.some((word) => names.has(plainName(word))));
  return withColours.find(namesPatches) ?? withColours.at(0) ?? null;
}

/** A later table of a file may leave out what the header of an earlier one has said. */
function conditionOf(table: CgatsTable, tables: readonly CgatsTable[]): Outcome<StatedCondition> {
  const own = readMeasuringCondition(table.header);
  if (!own.ok || own.value.assumed.length < 2) return own;
  return readMeasuringCondition(tables.slice(0, tables.indexOf(table) + 1).flatMap(({ header }) => header));
}

function averageReadings(
  id: string,
  readings: readonly ColourReading[],
  condition: MeasuringCondition,
): Outcome<LabD50> {
  const labs = readings.map((reading) => toLabD50(reading, condition));
  const [first] = labs;
  for (const [index, lab] of labs.entries()) {
    const apart = ciede2000(first, lab);
    if (apart > MOST_REPEAT_DIFFERENCE) {
      return malformed(
        readings[index].line,
        `patch ${id} was read before with a colour ${apart.toFixed(1)} CIEDE2000 away (most allowed ${MOST_REPEAT_DIFFERENCE})`,
      );
    }
  }
  const mean = (pick: (lab: LabD50) => number): number => labs.reduce((sum, lab) => sum + pick(lab), 0) / labs.length;
  return success({ L: mean((lab) => lab.L), a: mean((lab) => lab.a), b: mean((lab) => lab.b) });
}

function toLabD50({ space, values }: ColourReading, { illuminant, observerDegrees }: MeasuringCondition): LabD50 {
  const out: [number, number, number] = [...values];
  const isWorkingWhite = illuminant === 'D50' && observerDegrees === 2;
  if (space === 'XYZ' || !isWorkingWhite) {
    const white = whitePoint(illuminant, observerDegrees);
    if (space === 'Lab') labToXyz(out, white, out);
    if (!isWorkingWhite) applyColourMatrix(bradfordMatrix(white, WHITE_D50), out, out);
    xyzToLab(out, WHITE_D50, out);
  }
  return { L: Math.min(100, Math.max(0, out[0])), a: out[1], b: out[2] };
}
