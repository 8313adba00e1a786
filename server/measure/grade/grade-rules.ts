import type { StandardGrade } from '../../domain/index.ts';

/**
 * What a grade asks of residue and of stain. `none` is no visible body or tint; a number is the largest share of each
 * unit area; `most removed` and `firm only` are the standards' words without a share; null asks nothing.
 * Stain and residue are never counted on one scale: the 5 % of SP 10 is stain with no residue, the 10 % of SP 14 is
 * residue with any stain.
 */
export interface GradeRule {
  readonly residue: 'none' | 'most removed' | 'firm only' | number;
  readonly stain: 'none' | 'slight' | number | null;
}

/** Sources: [ISO8501-1] in paraphrase, no share stands in it; [SP5], [SP10], [SP6], [SP14], [SP7]. */
const RULES: Readonly<Record<StandardGrade['grade'], GradeRule>> = {
  'Sa 3': { residue: 'none', stain: 'none' },
  'Sa 2 1/2': { residue: 'none', stain: 'slight' },
  'Sa 2': { residue: 'most removed', stain: null },
  'Sa 1': { residue: 'firm only', stain: null },
  'White Metal': { residue: 'none', stain: 'none' },
  'Near-White Metal': { residue: 'none', stain: 0.05 },
  Commercial: { residue: 'none', stain: 0.33 },
  Industrial: { residue: 0.1, stain: null },
  'Brush-Off': { residue: 'firm only', stain: null },
};

export const gradeRuleOf = ({ grade }: StandardGrade): GradeRule => RULES[grade];
