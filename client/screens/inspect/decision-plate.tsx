import type { ReactNode } from 'react';
import { StandingMark } from '../../components/standing-mark.tsx';
import type { Mark } from '../../components/standing-mark.tsx';
import type { GradeDecision } from '@domain/grade.ts';
import { words } from '../../i18n/words.ts';
import { formatShare, formatShareInterval } from '../../units/shown-units.ts';
import type { AnswerProps } from '../answer/answer-props.ts';

const MARKS: Readonly<Record<GradeDecision, Mark>> = {
  meets: 'done',
  'does not meet': 'round',
  'cannot tell': 'doubt',
};

/** The decision against the target grade, the largest thing on the screen. */
export function DecisionPlate({ assessment, result }: AnswerProps): ReactNode {
  const { decision: measured, correctedDecision: anew, targetGrade, corrected } = assessment;
  const decision = anew ?? measured;
  const { residue } = result.after;
  return (
    <section className="answer-plate" aria-label={words.inspect.title}>
      <p className="answer-short">
        {targetGrade === null ? words.inspect.noTarget : words.inspect.against(targetGrade)}
      </p>
      <p className="answer-big decision-big">
        <StandingMark mark={decision === null ? 'none' : MARKS[decision]} size={48} />
        <span>{decision === null ? words.answer.big.measured : words.inspect.decision[decision]}</span>
      </p>
      {anew === null || measured === null ? null : (
        <p className="answer-short">{words.inspect.asMeasured(words.inspect.decision[measured])}</p>
      )}
      <p className="answer-left">
        <span className="answer-left-word">{words.answer.left}</span>
        <span className="answer-left-number">{formatShare(corrected.after?.residue ?? residue.value)}</span>
        <span className="answer-left-word">
          {corrected.after === null
            ? words.answer.leftInterval(formatShareInterval(residue))
            : words.inspect.byHand(formatShare(residue.value), formatShareInterval(residue))}
        </span>
      </p>
    </section>
  );
}
