import { z } from 'zod';
import { colourErrorSchema } from '../photo.ts';
import { idSchema, momentSchema, nameSchema, noteSchema, ownId } from './identifiers.ts';
import { pageOf, pageQuery, putAwayFilter } from './paging.ts';

/** A card that was printed and is in use. */
export const shopCardSchema = z
  .object({
    id: idSchema,
    /** As written on its back. */
    name: z.string(),
    edition: z.int(),
    note: z.string(),
    /** Null while the printed colours are taken as drawn. */
    values: z
      .object({
        /** In the words of whoever measured. */
        instrument: z.string(),
        measuredOn: z.iso.date(),
        patchCount: z.int(),
        /** What was taken for granted when the file was read, as sentences. */
        assumed: z.array(z.string()),
        /** CIEDE2000 of the measured patches against the drawing. */
        drift: colourErrorSchema,
      })
      .nullable(),
    isPutAway: z.boolean(),
    createdAt: momentSchema,
    updatedAt: momentSchema,
  })
  .meta({ id: 'ShopCard' });
export type ShopCard = z.infer<typeof shopCardSchema>;

export const newCardSchema = z.object({ ...ownId, name: nameSchema, note: noteSchema.default('') });
export const cardChangeSchema = z.object({ name: nameSchema, note: noteSchema, isPutAway: z.boolean() }).partial();
/** Measured values as a CGATS.17 text file writes them. */
export const cardValuesBodySchema = z.object({
  text: z.string().min(1).max(200_000),
  instrument: z.string().trim().max(120).default(''),
  measuredOn: z.iso.date(),
});

export const cardsQuerySchema = pageQuery(['name', 'createdAt'], 'name').extend({ putAway: putAwayFilter });
export const cardsPageSchema = pageOf(shopCardSchema);

/** How well the card's colours came back in each after photo that showed it, newest first: a rise means a worn card. */
export const cardHealthSchema = z
  .object({
    items: z.array(
      z.object({
        assessmentId: idSchema,
        zoneName: z.string(),
        at: momentSchema,
        colourErrorDeltaE00: colourErrorSchema,
      }),
    ),
    nextCursor: z.string().nullable(),
  })
  .meta({ id: 'CardHealth' });
export type CardHealth = z.infer<typeof cardHealthSchema>;
export const cardHealthQuerySchema = pageQuery(['at'], '-at').omit({ q: true });

export const cardSheetQuerySchema = z.object({ paper: z.enum(['a4', 'letter']).default('a4') });
