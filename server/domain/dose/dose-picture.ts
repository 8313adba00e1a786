import type { DosePicture, DoseRequest } from '../dose.ts';
import { failure, type Outcome, success } from '../outcome.ts';
import { fraction, millimetres } from '../units.ts';
import { arealEnergy } from '../energy/areal-energy.ts';
import { strokeFluence } from '../energy/stroke-fluence.ts';
import { edgeGap, linePitch } from '../kinematics/line-pitch.ts';
import { UNTOUCHED_RESIDUE } from '../removal/untouched-residue.ts';
import { doseRemarks } from './dose-remarks.ts';
import { layStrokes, type DoseGrid } from './lay-strokes.ts';
import { MOST_TURNS } from './stroke-turns.ts';
import { stripeContrast } from './stripe-contrast.ts';

const COLUMNS = 48;
const ROWS = { least: 40, most: 360 } as const;
/** Cells along the travel for each spot diameter: stripes are at least a spot apart. */
const CELLS_PER_SPOT = 5;
/** Walk that is shown where nobody asks for a length: enough pitches to see a pattern, in mm. */
const USUAL_LENGTH_MM = 24;

/**
 * What one round lays on the metal and should leave there, as rasters in millimetres. Zig-zag of the mirror, speed of the
 * hand along the walk, shape of the spot and every pass are followed stroke by stroke; the removal model then tells for
 * each cell what is left of a surface in the middle of what is usual for its kind. Limits: no heat is carried from stroke
 * to stroke, the speed is constant within a stroke, and the line runs square to the travel.
 */
export function dosePicture(request: DoseRequest): Outcome<DosePicture> {
  const { settings, machine } = request;
  const lengthMm = request.lengthMm ?? millimetres(USUAL_LENGTH_MM);
  const turns = (settings.passes * lengthMm) / linePitch(settings, machine);
  if (turns > MOST_TURNS) {
    return failure({
      code: 'settings-malformed',
      path: 'lengthMm',
      detail: `asks for ${Math.round(turns)} strokes; at most ${MOST_TURNS} are drawn, so choose a shorter walk`,
    });
  }
  const rows = Math.min(
    ROWS.most,
    Math.max(ROWS.least, Math.ceil((CELLS_PER_SPOT * lengthMm) / machine.spotDiameterMm)),
  );
  const grid: DoseGrid = {
    columns: COLUMNS,
    rows,
    cellWidthMm: settings.scanWidthMm / COLUMNS,
    cellLengthMm: lengthMm / rows,
  };
  const { energyJPerCm2, remaining } = layStrokes(request, grid);
  const start = request.startResidueFraction ?? UNTOUCHED_RESIDUE.share;
  const residue = remaining.map((share) => share * start);
  const meanResidueFraction = fraction(meanOf(residue));
  const contrast = fraction(stripeContrast(residue, grid));
  return success({
    schema: 'bareplate/dose-picture@1',
    widthMm: settings.scanWidthMm,
    lengthMm,
    columns: grid.columns,
    rows,
    cellWidthMm: millimetres(grid.cellWidthMm),
    cellLengthMm: millimetres(grid.cellLengthMm),
    energyJPerCm2: inRows(energyJPerCm2, grid, 2),
    residueFraction: inRows(residue, grid, 4),
    strokeFluenceJPerCm2: strokeFluence(settings, machine),
    linePitchMm: linePitch(settings, machine),
    edgeGapMm: edgeGap(settings, machine),
    spotDiameterMm: machine.spotDiameterMm,
    meanEnergyJPerCm2: meanOf(energyJPerCm2),
    meanResidueFraction,
    stripeContrast: contrast,
    remarks: doseRemarks(request, { meanEnergyJPerCm2: arealEnergy(settings), meanResidueFraction, contrast }),
  });
}

const meanOf = (values: Float64Array): number => values.reduce((a, b) => a + b, 0) / values.length;

function inRows(values: Float64Array, { rows, columns }: DoseGrid, digits: number): number[][] {
  const scale = 10 ** digits;
  return Array.from({ length: rows }, (_, row) =>
    Array.from(values.subarray(row * columns, (row + 1) * columns), (value) => Math.round(value * scale) / scale),
  );
}
