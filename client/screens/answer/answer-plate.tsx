import type { ReactNode } from 'react';
import { StandingMark } from '../../components/standing-mark.tsx';
import { words } from '../../i18n/words.ts';
import { keptTogether } from '../../units/kept-together.ts';
import { formatShare, formatShareInterval } from '../../units/shown-units.ts';
import { useUnits } from '../../units/use-units.ts';
import type { AnswerProps } from './answer-props.ts';
import { ANSWER_MARKS, answerOf, shownAnswer } from './answer-of.ts';
import { shownWorstSquare } from './shown-worst-square.ts';

/** The largest thing on the screen: the answer, and how much is left. */
export function AnswerPlate({ assessment, result }: AnswerProps): ReactNode {
  const units = useUnits();
  const kind = shownAnswer(assessment);
  const measured = answerOf(assessment);
  const corrected = assessment.corrected.after;
  const residue = corrected?.residue ?? result.after.residue.value;
  const { worst } = shownWorstSquare({ assessment, result });
  return (
    <section className="answer-plate" aria-label={words.answer.big[kind]}>
      <p className="answer-big">
        <StandingMark mark={ANSWER_MARKS[kind]} size={64} />
        <span>{words.answer.big[kind]}</span>
      </p>
      <p className="answer-short">
        {keptTogether(words.answer.short[kind](assessment.targetGrade ?? words.answer.target))}
      </p>
      {kind === measured ? null : <p className="answer-short">{words.answer.byHand(words.answer.big[measured])}</p>}
      <p className="answer-left">
        <span className="answer-left-word">{words.answer.left}</span>
        <span className="answer-left-number">{formatShare(residue)}</span>
        <span className="answer-left-word">
          {corrected === null
            ? words.answer.leftInterval(formatShareInterval(result.after.residue))
            : words.answer.asMeasured(formatShare(result.after.residue.value))}
        </span>
        {worst === null ? null : (
          <span className="answer-left-word">
            {words.answer.leftWorst(formatShare(worst.residueFraction), units.length(worst.sideMm))}
          </span>
        )}
      </p>
    </section>
  );
}
