import { z } from 'zod';
import { adviceSchema } from './advice.ts';
import { gradeSchema } from './grade.ts';
import { finiteNumber, measuredSchema } from './measured.ts';
import { photoSchema } from './photo.ts';
import { streaksSchema } from './streaks.ts';
import { surfaceSchema } from './surface.ts';

export const ASSESSMENT_SCHEMA = 'bareplate/assessment@1';

export const warningSchema = z.object({ code: z.string().min(1), message: z.string().min(1) });
export type Warning = z.infer<typeof warningSchema>;

export const assessmentSchema = z.object({
  schema: z.literal(ASSESSMENT_SCHEMA),
  photos: z.object({ before: photoSchema.nullable(), after: photoSchema }),
  zone: z.object({
    areaMm2: finiteNumber.positive().nullable(),
    polygonMm: z.array(z.tuple([finiteNumber, finiteNumber])).nullable(),
  }),
  before: surfaceSchema.nullable(),
  after: surfaceSchema,
  /** Share of the before-residue that is gone. */
  removed: measuredSchema.nullable(),
  streaks: streaksSchema,
  grades: z.array(gradeSchema),
  advice: adviceSchema.nullable(),
  warnings: z.array(warningSchema),
});
export type Assessment = z.infer<typeof assessmentSchema>;
