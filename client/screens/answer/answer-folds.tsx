import type { ReactNode } from 'react';
import type { Warning } from '@domain/assessment.ts';
import type { Grade } from '@domain/grade.ts';
import { Fold } from '../../components/fold.tsx';
import { words } from '../../i18n/words.ts';

export function GradesFold({ grades, target }: { grades: readonly Grade[]; target: string | null }): ReactNode {
  return (
    <Fold title={words.answer.grades}>
      <div className="table-scroll" tabIndex={0} role="region" aria-label={words.answer.grades}>
        <table className="small">
          <thead>
            <tr>
              <th scope="col">{words.answer.grade}</th>
              <th scope="col">{words.answer.decision}</th>
              <th scope="col">{words.answer.because}</th>
            </tr>
          </thead>
          <tbody>
            {grades.map(({ standard, grade, decision, because }) => (
              <tr key={`${standard} ${grade}`} className={grade === target ? 'is-target' : undefined}>
                <th scope="row">
                  {grade}
                  <br />
                  <span className="muted">{standard}</span>
                </th>
                <td>{words.answer.gradeDecision[decision]}</td>
                <td>{because}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </Fold>
  );
}

export function WarningsFold({ warnings }: { warnings: readonly Warning[] }): ReactNode {
  if (warnings.length === 0) return null;
  return (
    <Fold title={words.answer.warnings}>
      <ul className="points">
        {warnings.map(({ code, message }) => (
          <li key={`${code} ${message}`}>{message}</li>
        ))}
      </ul>
    </Fold>
  );
}
