import { failure, STANDARD_GRADES, success } from '../../domain/index.ts';
import type { Outcome, StandardGrade } from '../../domain/index.ts';
import { gradeRuleOf } from './grade-rules.ts';
import { READS_AS_NONE_UP_TO } from './visible-limit.ts';

type GradeName = StandardGrade['grade'];

/** Ways of writing, after capitals, spaces, dashes and dots are gone; 2.5, 2,5, 2 1/2 and the half sign are all "25". */
const SPELLINGS: readonly (readonly [GradeName, RegExp])[] = [
  ['Sa 3', /^sa3$/],
  ['Sa 2 1/2', /^sa25$/],
  ['Sa 2', /^sa2$/],
  ['Sa 1', /^sa1$/],
  ['White Metal', /^(sp5|nace1|whitemetal|sp5nace1)$/],
  ['Near-White Metal', /^(sp10|nace2|nearwhite(metal)?|sp10nace2)$/],
  ['Commercial', /^(sp6|nace3|commercial|sp6nace3)$/],
  ['Industrial', /^(sp14|nace8|industrial|sp14nace8)$/],
  ['Brush-Off', /^(sp7|nace4|brushoff|sp7nace4)$/],
];

/** Which grade a person means by a text such as "Sa 2.5", "sa2½", "SSPC-SP 10" or "NACE No. 2". */
export function matchTarget(text: string): Outcome<StandardGrade> {
  const written = plainSpelling(text);
  const name = SPELLINGS.find(([, pattern]) => pattern.test(written))?.[0];
  const match = STANDARD_GRADES.find(({ grade }) => grade === name);
  if (match !== undefined) return success(match);
  return failure({ code: 'target-unknown', target: text, known: STANDARD_GRADES.map(gradeTitle) });
}

/** As it is named in a list: the ISO grade by itself, the joint standards by both numbers. */
export const gradeTitle = ({ standard, grade }: StandardGrade): string =>
  standard === 'ISO 8501-1' ? grade : standard;

function plainSpelling(text: string): string {
  return text
    .toLowerCase()
    .replace(/2\s*(½|[-\s]1\/2|1\/2|[.,]5)/u, '25')
    .replace(/iso\s*8501(-\s*1)?(\s*:\s*\d{4})?|sspc|ampp|blast|cleaning|grade|no\b|nr\b/gu, '')
    .replace(/[^a-z0-9]/gu, '');
}

/**
 * The largest residue share that advice may aim at for a grade: its own limit, or what reads as none in a photo where
 * none is allowed; null where the grade asks for adhesion, which no share expresses.
 */
export function residueTargetOf(grade: StandardGrade): number | null {
  const { residue } = gradeRuleOf(grade);
  if (typeof residue === 'number') return residue;
  return residue === 'none' ? READS_AS_NONE_UP_TO : null;
}
