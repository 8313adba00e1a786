import { z } from 'zod';

export const GRADE_DECISIONS = ['meets', 'does not meet', 'cannot tell'] as const;
export type GradeDecision = (typeof GRADE_DECISIONS)[number];

export const gradeSchema = z.object({
  standard: z.string().min(1),
  grade: z.string().min(1),
  decision: z.enum(GRADE_DECISIONS),
  because: z.string().min(1),
});
export type Grade = z.infer<typeof gradeSchema>;
