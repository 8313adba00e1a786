import type { ReactNode } from 'react';
import type { Warning } from '@domain/assessment.ts';
import type { Grade } from '@domain/grade.ts';
import { Fold } from '../../components/fold.tsx';
import { GradeTable } from '../../components/grade-table.tsx';
import { words } from '../../i18n/words.ts';
import { sentenceInUnits } from '../../units/sentence-in-units.ts';
import { useUnits } from '../../units/use-units.ts';

export function GradesFold({ grades, target }: { grades: readonly Grade[]; target: string | null }): ReactNode {
  return (
    <Fold title={words.answer.grades}>
      <GradeTable grades={grades} target={target} />
    </Fold>
  );
}

export function WarningsFold({ warnings }: { warnings: readonly Warning[] }): ReactNode {
  const units = useUnits();
  if (warnings.length === 0) return null;
  return (
    <Fold title={words.answer.warnings}>
      <ul className="points">
        {warnings.map(({ code, message }) => (
          <li key={`${code} ${message}`}>{sentenceInUnits(message, units)}</li>
        ))}
      </ul>
    </Fold>
  );
}
