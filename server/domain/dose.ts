import { z } from 'zod';
import { finiteNumber } from './measured.ts';
import { machineSchema } from './machine.ts';
import { settingsSchema } from './settings.ts';
import { fractionSchema, positiveMillimetres, positiveMillimetresPerSecond } from './units.ts';

/** Shape of the spot: an even disk, or a Gaussian whose 1/e2 diameter is the spot diameter. */
export const BEAM_SHAPES = ['gaussian', 'even'] as const;
export type BeamShape = (typeof BEAM_SHAPES)[number];

/** How the mirror moves: at constant speed, or as a sine that lingers at both ends of the line. */
export const MIRROR_MOTIONS = ['triangular', 'sinusoidal'] as const;
export type MirrorMotion = (typeof MIRROR_MOTIONS)[number];

const MOST_TRACE_POINTS = 10_000;

export const doseRequestSchema = z.object({
  settings: settingsSchema,
  machine: machineSchema,
  /** Surface in words, e.g. "heavy pitted rust". */
  surface: z.string().min(1).optional(),
  startResidueFraction: fractionSchema.optional(),
  beam: z.enum(BEAM_SHAPES).optional(),
  mirror: z.enum(MIRROR_MOTIONS).optional(),
  /** Length of the walk that is shown, along the travel. */
  lengthMm: positiveMillimetres.optional(),
  /** Real speed of the hand over the walk, by place along it; the settings' own speed where left out. */
  speedTrace: z
    .array(z.object({ alongMm: finiteNumber.min(0), travelSpeedMmPerS: positiveMillimetresPerSecond }))
    .min(1)
    .max(MOST_TRACE_POINTS)
    .refine(
      (trace) => trace.every((point, i) => i === 0 || point.alongMm > trace[i - 1].alongMm),
      'expected rising places',
    )
    .optional(),
});
export type DoseRequest = z.infer<typeof doseRequestSchema>;

const raster = z.array(z.array(finiteNumber.min(0)));

/**
 * What one round lays on the metal and what it should leave: rows run along the travel, columns across it, from the left
 * end of the line. Places are middles of cells.
 */
export const dosePictureSchema = z.object({
  schema: z.literal('bareplate/dose-picture@1'),
  widthMm: positiveMillimetres,
  lengthMm: positiveMillimetres,
  columns: z.int().min(1),
  rows: z.int().min(1),
  cellWidthMm: positiveMillimetres,
  cellLengthMm: positiveMillimetres,
  /** Energy laid on each cell by all strokes of all passes, J/cm2. */
  energyJPerCm2: raster,
  /** Share of the residue that should be left in each cell, 0..1 of the whole surface. */
  residueFraction: raster,
  strokeFluenceJPerCm2: finiteNumber.min(0),
  linePitchMm: positiveMillimetres,
  edgeGapMm: positiveMillimetres,
  spotDiameterMm: positiveMillimetres,
  meanEnergyJPerCm2: finiteNumber.min(0),
  meanResidueFraction: fractionSchema,
  /** Difference of residue between the barest and the least bare tenth of the rows: what the eye sees as stripes. */
  stripeContrast: fractionSchema,
  remarks: z.array(z.string().min(1)),
});
export type DosePicture = z.infer<typeof dosePictureSchema>;
