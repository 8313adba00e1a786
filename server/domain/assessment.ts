import { z } from 'zod';
import { adviceSchema } from './advice.ts';
import { gradeSchema } from './grade.ts';
import { finiteNumber, measuredSchema } from './measured.ts';
import { photoSchema } from './photo.ts';
import { streaksSchema } from './streaks.ts';
import { surfaceSchema } from './surface.ts';
import { fractionSchema } from './units.ts';

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
  /** Degrees of rusting that other standards would give to the rusted share before; those standards are for coated steel. */
  equivalentRustedArea: z
    .object({
      rustedFraction: fractionSchema,
      d610Grade: z.int().min(0).max(10),
      nearestRiDegree: z.int().min(0).max(5),
      remark: z.string().min(1),
    })
    .nullable()
    .optional(),
  /** How the after photo lies on the before photo, where marks of the surface allow; no share depends on it. */
  registration: z
    .object({ marksMatched: z.int().positive(), rmsMm: finiteNumber.min(0) })
    .nullable()
    .optional(),
  /** Which segmenter told the classes apart, with its version. */
  segmenter: z.string().min(1).optional(),
  /** What holds for every assessment of this kind. */
  remarks: z.array(z.string().min(1)).optional(),
  warnings: z.array(warningSchema),
});
export type Assessment = z.infer<typeof assessmentSchema>;
