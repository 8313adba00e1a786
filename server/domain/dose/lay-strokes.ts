import type { BeamShape, DoseRequest } from '../dose.ts';
import { candidatesFrom, PARAMETER_DIMENSIONS } from '../removal/surface-candidates.ts';
import { strokeFluence } from '../energy/stroke-fluence.ts';
import { dwellTime } from '../kinematics/dwell-time.ts';
import { ELEMENT_CLASSES, remainingShare, strokeRates, type SurfaceCandidates } from '../removal/element-population.ts';
import { removalPriorOf } from '../removal/removal-prior.ts';
import { REFERENCE_DWELL_S } from '../removal/round-dose.ts';
import { surfaceKindOf } from '../removal/surface-kind.ts';
import { PROFILE_REACH, strokeProfile } from './stroke-profile.ts';
import { strokeTurns } from './stroke-turns.ts';

export interface DoseGrid {
  readonly columns: number;
  readonly rows: number;
  readonly cellWidthMm: number;
  readonly cellLengthMm: number;
}

interface Laid {
  /** Row by row, J/cm2. */
  readonly energyJPerCm2: Float64Array;
  /** Share of the residue that is left in each cell, row by row. */
  readonly remaining: Float64Array;
}

/**
 * Follows every stroke of every pass over the cells and lets the typical surface of this kind respond to each. What strokes
 * give a cell adds up, so strokes at the same distance are counted first and given together.
 */
export function layStrokes(request: DoseRequest, grid: DoseGrid): Laid {
  const typical = candidatesFrom(
    new Float64Array(PARAMETER_DIMENSIONS),
    removalPriorOf(surfaceKindOf(request.surface)),
  );
  const reach = PROFILE_REACH[request.beam ?? 'gaussian'] * request.machine.spotDiameterMm;
  const walk = { from: -2 * reach - 2, to: grid.rows * grid.cellLengthMm + reach };
  const passes = Array.from({ length: request.settings.passes }, (_, pass) => strokeTurns(request, pass, walk));
  const energyJPerCm2 = new Float64Array(grid.rows * grid.columns);
  const remaining = new Float64Array(grid.rows * grid.columns);
  const counts = new Uint32Array(grid.rows * OFFSETS);
  const progress = new Float64Array(ELEMENT_CLASSES);
  for (let column = 0; column < grid.columns; column++) {
    const table = strokeTable(request, grid, column, typical);
    counts.fill(0);
    for (const turns of passes) countStrokes(counts, turns, { part: table.part, reach, grid });
    for (let row = 0; row < grid.rows; row++) {
      const cell = row * grid.columns + column;
      energyJPerCm2[cell] = addCounted(table, counts.subarray(row * OFFSETS, (row + 1) * OFFSETS), progress);
      remaining[cell] = remainingShare(typical, 0, { values: progress, start: 0 });
    }
  }
  return { energyJPerCm2, remaining };
}

/** Counts the strokes of one pass over each cell of a column by their distance from its middle. */
function countStrokes(
  counts: Uint32Array,
  turns: readonly number[],
  { part, reach, grid: { rows, cellLengthMm } }: { part: number; reach: number; grid: DoseGrid },
): void {
  const perMm = (OFFSETS - 1) / reach;
  for (let stroke = 0; stroke + 1 < turns.length; stroke++) {
    const [from, to] = [turns[stroke], turns[stroke + 1]];
    const middle = from + (stroke % 2 === 0 ? part : 1 - part) * (to - from);
    const first = Math.max(0, Math.ceil((middle - reach) / cellLengthMm - 0.5));
    const last = Math.min(rows - 1, Math.floor((middle + reach) / cellLengthMm - 0.5));
    for (let row = first; row <= last; row++) {
      const offset = Math.abs((row + 0.5) * cellLengthMm - middle) * perMm;
      counts[row * OFFSETS + Math.min(OFFSETS - 1, Math.round(offset))]++;
    }
  }
}

/** Writes the progress of a cell anew and answers its energy, J/cm2. */
function addCounted(table: StrokeTable, counts: Uint32Array, progress: Float64Array): number {
  let energyJPerCm2 = 0;
  progress.fill(0);
  for (let offset = 0; offset < OFFSETS; offset++) {
    const count = counts[offset];
    if (count === 0) continue;
    energyJPerCm2 += count * table.energyJPerCm2[offset];
    const from = offset * ELEMENT_CLASSES;
    for (let element = 0; element < ELEMENT_CLASSES; element++) {
      progress[element] += count * table.gains[from + element];
    }
  }
  return energyJPerCm2;
}

/** Steps from the middle of a stroke to where it ends. Test: the mean energy is met within 1 %. */
const OFFSETS = 65;

/** What one stroke gives a cell of one column, by the cell's distance from the middle of the stroke. */
interface StrokeTable {
  /** Place of the column along the line, 0..1 from its left end. */
  readonly part: number;
  readonly energyJPerCm2: Float64Array;
  readonly gains: Float64Array;
}

function strokeTable(request: DoseRequest, grid: DoseGrid, column: number, typical: SurfaceCandidates): StrokeTable {
  const { settings, machine, beam = 'gaussian' } = request;
  const place = (column + 0.5) / grid.columns;
  const slowness = request.mirror === 'sinusoidal' ? sinusoidalSlowness(column, grid.columns) : 1;
  // A swinging mirror passes each place at the same fraction of its stroke as its angle says.
  const part = request.mirror === 'sinusoidal' ? Math.acos(1 - 2 * place) / Math.PI : place;
  const lnDwell = Math.log((slowness * dwellTime(settings, machine)) / REFERENCE_DWELL_S);
  const fluence = slowness * strokeFluence(settings, machine);
  const energyJPerCm2 = profileOf(beam).map((profile) => fluence * profile);
  const gains = new Float64Array(OFFSETS * ELEMENT_CLASSES);
  const rates = new Float64Array(ELEMENT_CLASSES);
  energyJPerCm2.forEach((energy, offset) => {
    if (energy <= 0) return;
    strokeRates(typical, 0, { lnFluence: Math.log(energy), lnDwell }, rates);
    rates.forEach((rate, element) => {
      gains[offset * ELEMENT_CLASSES + element] = rate * energy;
    });
  });
  return { part, energyJPerCm2, gains };
}

/** Profile at each offset, scaled so that the table holds all of the stroke's energy. */
function profileOf(beam: BeamShape): Float64Array {
  const reach = PROFILE_REACH[beam];
  const profile = Float64Array.from({ length: OFFSETS }, (_, i) => strokeProfile(beam, (reach * i) / (OFFSETS - 1)));
  const integral =
    (2 * reach * (profile.reduce((a, b) => a + b, 0) - (profile[0] + profile[OFFSETS - 1]) / 2)) / (OFFSETS - 1);
  return profile.map((value) => value / integral);
}

/**
 * Mean time that a sinusoidal mirror spends over a column, against a triangular one: the integral of
 * 2 / (pi sqrt(1 - u^2)) over the column, u = -1..1 along the line. Finite also at the ends. Source: arithmetic.
 */
function sinusoidalSlowness(column: number, columns: number): number {
  const [from, to] = [(2 * column) / columns - 1, (2 * (column + 1)) / columns - 1];
  return ((Math.asin(to) - Math.asin(from)) / Math.PI) * columns;
}
