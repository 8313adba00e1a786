import { z } from 'zod';
import { finiteNumber } from '../measured.ts';
import { photoTimeSchema } from '../photo-time.ts';
import { idSchema, momentSchema } from './identifiers.ts';
import { personRefSchema } from './people.ts';
import { orNull } from './or-null.ts';
import { faultNoteSchema } from './problem.ts';

/** Largest photo file that is taken, MiB: 48 megapixels as HEIC or JPEG stay well below (common practice). */
export const MOST_UPLOAD_MIB = 64;

const corner = z.tuple([finiteNumber, finiteNumber]);
const corners = z.array(corner).min(3).max(64);

/** The zone in one photo: corners in the upright photo (px) or in the card frame (mm). */
export const outlineSchema = z
  .union([z.strictObject({ polygonPx: corners }), z.strictObject({ polygonMm: corners })])
  .meta({ id: 'Outline' });
export type Outline = z.infer<typeof outlineSchema>;

export const PHOTO_ROLES = ['before', 'after'] as const;
export const photoRoleSchema = z.enum(PHOTO_ROLES);
export type PhotoRole = (typeof PHOTO_ROLES)[number];

export const storedPhotoSchema = z
  .object({
    id: idSchema,
    fileName: z.string(),
    mediaType: z.string(),
    sizeBytes: z.int(),
    sha256: z.string(),
    /** Upright, after the EXIF orientation. */
    widthPx: z.int(),
    heightPx: z.int(),
    /** By the phone's clock, as the file says: not to be relied on. Null where it says nothing. */
    takenAt: orNull(photoTimeSchema),
    /** By the server's clock. */
    addedAt: momentSchema,
    addedBy: orNull(personRefSchema),
  })
  .meta({ id: 'StoredPhoto' });
export type StoredPhoto = z.infer<typeof storedPhotoSchema>;

/** What a look at a photo tells of the card in it, before anything is measured. */
export const cardInPhotoSchema = z
  .object({
    /** Corners of the card in the upright photo, px; null where none is seen, or none that can be used. */
    cornersPx: orNull(corners),
    /** Why a card that is seen cannot be used. */
    fault: orNull(faultNoteSchema),
  })
  .meta({ id: 'CardInPhoto' });
export type CardInPhoto = z.infer<typeof cardInPhotoSchema>;

/** A photo in its place in a round, and where the zone lies in it; without an outline all but the card is judged. */
export const roundPhotoSchema = z
  .object({ photo: storedPhotoSchema, outline: orNull(outlineSchema) })
  .meta({ id: 'RoundPhoto' });
export type RoundPhoto = z.infer<typeof roundPhotoSchema>;

/** Names a finished upload, or a photo that is already stored (the after photo of one round is the before of the next). */
const photoSource = z.union([
  z.strictObject({ uploadId: z.string().min(1).max(64) }),
  z.strictObject({ photoId: idSchema }),
]);
export const attachPhotoSchema = z.object({ source: photoSource, outline: orNull(outlineSchema).default(null) });
export const outlineChangeSchema = z.object({ outline: orNull(outlineSchema) });
export const addPhotoSchema = z.object({ uploadId: z.string().min(1).max(64) });

export const roundPhotoParamsSchema = z.object({ roundId: idSchema, role: photoRoleSchema });

/**
 * A pyramid of tiles: level 0 is one tile, each further level doubles the size, the last is the upright photo itself.
 * Width and height of a level are the photo's divided by 2^(levels - 1 - level), rounded up.
 */
export const tilePyramidSchema = z
  .object({ widthPx: z.int(), heightPx: z.int(), tileSizePx: z.int(), overlapPx: z.literal(0), levels: z.int().min(1) })
  .meta({ id: 'TilePyramid' });
export type TilePyramid = z.infer<typeof tilePyramidSchema>;

const whole = z
  .string()
  .regex(/^\d{1,5}$/, 'expected a whole number')
  .transform(Number);
export const tileParamsSchema = z.object({ photoId: idSchema, level: whole, column: whole, row: whole });
