import type { ReactNode } from 'react';
import type { Grade } from '@domain/grade.ts';
import { words } from '../i18n/words.ts';
import { sentenceInUnits } from '../units/sentence-in-units.ts';
import { useUnits } from '../units/use-units.ts';

/** A target is named by its grade, or by its standard where that has one grade only. */
export const isTargetGrade = ({ standard, grade }: Grade, target: string | null): boolean =>
  grade === target || standard === target;

/** The surface beside each published grade, with the reason; the target stands out. */
export function GradeTable({
  grades,
  target,
  label = words.answer.grades,
}: {
  grades: readonly Grade[];
  target: string | null;
  label?: string;
}): ReactNode {
  const units = useUnits();
  return (
    <div className="table-scroll" tabIndex={0} role="region" aria-label={label}>
      <table className="small">
        <thead>
          <tr>
            <th scope="col">{words.answer.grade}</th>
            <th scope="col">{words.answer.decision}</th>
            <th scope="col">{words.answer.because}</th>
          </tr>
        </thead>
        <tbody>
          {grades.map((line) => (
            <tr
              key={`${line.standard} ${line.grade}`}
              className={isTargetGrade(line, target) ? 'is-target' : undefined}
            >
              <th scope="row">
                {line.grade}
                <br />
                <span className="muted">{line.standard}</span>
              </th>
              <td>{words.answer.gradeDecision[line.decision]}</td>
              <td>{sentenceInUnits(line.because, units)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
