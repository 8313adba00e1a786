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

/** Grades that a surface is compared with, most demanding first within each family. Names only; the rules are the pure core's. */
export const STANDARD_GRADES = [
  { standard: 'ISO 8501-1', grade: 'Sa 3' },
  { standard: 'ISO 8501-1', grade: 'Sa 2 1/2' },
  { standard: 'ISO 8501-1', grade: 'Sa 2' },
  { standard: 'ISO 8501-1', grade: 'Sa 1' },
  { standard: 'SSPC-SP 5 / NACE No. 1', grade: 'White Metal' },
  { standard: 'SSPC-SP 10 / NACE No. 2', grade: 'Near-White Metal' },
  { standard: 'SSPC-SP 6 / NACE No. 3', grade: 'Commercial' },
  { standard: 'SSPC-SP 14 / NACE No. 8', grade: 'Industrial' },
  { standard: 'SSPC-SP 7 / NACE No. 4', grade: 'Brush-Off' },
] as const;
export type StandardGrade = (typeof STANDARD_GRADES)[number];
