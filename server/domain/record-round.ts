import { z } from 'zod';
import { correctedSurfaceSchema } from './api/corrections.ts';
import { assessmentSchema } from './assessment.ts';
import { instantSchema } from './instant.ts';
import { finiteNumber } from './measured.ts';
import { photoTimeSchema } from './photo-time.ts';
import { settingsSchema } from './settings.ts';

export const sha256Schema = z.string().regex(/^[0-9a-f]{64}$/, 'expected 64 lower-case hexadecimal digits');

/** Names inside a bundle: plain words, folders by slash, nothing that climbs out of the folder. */
const bundlePathSchema = z
  .string()
  .max(120)
  .regex(/^(?:[a-z0-9][a-z0-9-]*\/)*[A-Za-z0-9][A-Za-z0-9-]*(?:\.[a-z0-9]+)+$/, 'expected a plain relative file name');

/** A file that the record stands on: where it lies in the bundle, and its bytes' SHA-256. */
export const evidenceFileSchema = z.object({ path: bundlePathSchema, sha256: sha256Schema });
export type EvidenceFile = z.infer<typeof evidenceFileSchema>;

/** How the surface is seen in the upright photo; what brings the photo to scale again, years later. */
export const surfaceInPhotoSchema = z.object({
  /** Homography from surface points (mm, card frame) to ideal pixels, row-major. */
  toIdealPx: z.array(finiteNumber).length(9),
  /** Radial distortion: ideal distance d (half diagonals) = d' (1 + bend d'^2) of the photo's distance d'. */
  lens: z.object({
    bend: finiteNumber,
    centrePx: z.tuple([finiteNumber, finiteNumber]),
    halfDiagonalPx: finiteNumber.positive(),
  }),
  /** Outline of the zone on the surface as this photo frames it, mm. */
  zoneMm: z.array(z.tuple([finiteNumber, finiteNumber])).min(3),
});
export type SurfaceInPhoto = z.infer<typeof surfaceInPhotoSchema>;

const recordPhotoSchema = z.object({
  file: evidenceFileSchema,
  /** By the phone's clock; null where the file says nothing. */
  takenAt: photoTimeSchema.nullable(),
  /** When this installation received the file, by its own clock; null in what earlier versions wrote. */
  receivedAt: instantSchema.nullable(),
  /** Null where no card was in view: the photo then has no scale. */
  surface: surfaceInPhotoSchema.nullable(),
  /** Class map on the upright photo's pixels: 8-bit grey PNG with the codes of `segment`. */
  classMap: evidenceFileSchema.nullable(),
  /** The same after the corrections that stand; null without any. */
  correctedClassMap: evidenceFileSchema.nullable(),
});
export type RecordPhoto = z.infer<typeof recordPhotoSchema>;

/** One treatment of the zone: how, when, and what was measured before and after. */
export const recordRoundSchema = z.object({
  number: z.int().positive(),
  treatedAt: instantSchema,
  settings: settingsSchema,
  /** Time the laser was on, as noted or logged; null where nobody noted it. */
  laserOnMinutes: finiteNumber.min(0).nullable(),
  /** What people noted with the round; absent where nobody did. */
  note: z.string().min(1).max(5000).optional(),
  before: recordPhotoSchema.nullable(),
  after: recordPhotoSchema,
  /** As measured; what people painted never changes it. */
  assessment: assessmentSchema,
  /** Shares after the corrections that stand, and what was decided anew on them; null without any. */
  corrected: z.object({ before: correctedSurfaceSchema.nullable(), after: correctedSurfaceSchema.nullable() }),
});
export type RecordRound = z.infer<typeof recordRoundSchema>;
