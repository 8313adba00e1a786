import { z } from 'zod';
import { streaksSchema } from './streaks.ts';
import { surfaceSchema } from './surface.ts';
import { minutesPerSquareMetreSchema } from './units.ts';
import { warningSchema } from './assessment.ts';
import { photoSchema } from './photo.ts';

/** Several patches of one photo, as trials are laid out in practice. */
export const comparisonSchema = z.object({
  schema: z.literal('bareplate/comparison@1'),
  photo: photoSchema,
  zones: z.record(
    z.string(),
    surfaceSchema.extend({ streaks: streaksSchema, minutesPerSquareMetre: minutesPerSquareMetreSchema.optional() }),
  ),
  pairs: z.array(
    z.object({
      a: z.string(),
      b: z.string(),
      residue: z.enum(['a cleaner', 'b cleaner', 'no real difference']),
      texture: z.enum(['a smoother', 'b smoother', 'no real difference']),
      because: z.string().min(1),
    }),
  ),
  warnings: z.array(warningSchema),
});
export type Comparison = z.infer<typeof comparisonSchema>;
