import type { AssessmentSummary } from '@domain/api/assessments.ts';
import { words } from '../../i18n/words.ts';
import { formatShare } from '../../units/shown-units.ts';

/** How much an assessment says is left, in a list; empty until it is done. A person's correction goes before what was measured. */
export function leftWords(latest: Pick<AssessmentSummary, 'residue' | 'correctedResidue'> | null): string {
  if (latest === null || latest.residue === null) return '';
  return latest.correctedResidue === null
    ? words.zones.left(formatShare(latest.residue.value))
    : words.zones.leftCorrected(formatShare(latest.correctedResidue));
}
