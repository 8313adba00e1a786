import type { ReactNode } from 'react';
import type { Grade } from '@domain/grade.ts';
import { words } from '../i18n/words.ts';
import { sentenceInUnits } from '../units/sentence-in-units.ts';
import { useUnits } from '../units/use-units.ts';

/** The surface beside each published grade, with the reason; the target stands out. */
export function GradeTable({ grades, target }: { grades: readonly Grade[]; target: string | null }): ReactNode {
  const units = useUnits();
  return (
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
            <tr
              key={`${standard} ${grade}`}
              className={grade === target || standard === target ? 'is-target' : undefined}
            >
              <th scope="row">
                {grade}
                <br />
                <span className="muted">{standard}</span>
              </th>
              <td>{words.answer.gradeDecision[decision]}</td>
              <td>{sentenceInUnits(because, units)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
