import { success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';
import { matchTarget, residueTargetOf } from '../measure/grade/match-target.ts';

/** What advice aims at. */
export interface GradeAim {
  /** Null where the grade asks for adhesion, which no share expresses. */
  readonly residueFractionMax: number | null;
  readonly words: string;
  /** Nobody named a grade. */
  readonly isAssumed: boolean;
}

/** What most coatings for steel in the weather ask for when nobody names a grade: common practice. */
const USUAL_TARGET = 'Sa 2 1/2';

/** The largest share that a grade, as the operator says it, allows. */
export function aimOfGrade(text: string | null): Outcome<GradeAim> {
  const matched = matchTarget(text ?? USUAL_TARGET);
  if (!matched.ok) return matched;
  const { standard, grade } = matched.value;
  return success({
    residueFractionMax: residueTargetOf(matched.value),
    words: `${standard} ${grade}`,
    isAssumed: text === null,
  });
}

/** Why no setting is advised for a grade that no share expresses. */
export const saysAdhesion = ({ words }: GradeAim): string =>
  `${words} asks for adhesion, not for a share: a scrape test decides, and no setting is advised by area.`;
