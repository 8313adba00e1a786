import type { ReactNode } from 'react';
import { Fold } from '../../components/fold.tsx';
import { words } from '../../i18n/words.ts';
import { keptTogether } from '../../units/kept-together.ts';
import { sentenceInUnits } from '../../units/sentence-in-units.ts';
import { formatShare } from '../../units/shown-units.ts';
import { useUnits } from '../../units/use-units.ts';
import type { AnswerProps } from './answer-props.ts';
import { streakSentence } from './streak-sentence.ts';

export function StreakSection({ assessment, result }: AnswerProps): ReactNode {
  const units = useUnits();
  const { streaks } = result;
  return (
    <section className="stack stack-tight">
      <h2>{words.answer.streaks}</h2>
      {streaks.found && streaks.kind !== null ? (
        <>
          <p>
            <strong>{words.answer.streakKind[streaks.kind]}.</strong>{' '}
            {keptTogether(streakSentence(streaks, assessment.basis.settings, units))}
          </p>
          <p className="muted">{words.answer.streakShare(formatShare(streaks.affectedFraction))}</p>
        </>
      ) : (
        <p>{words.answer.noStreaks}</p>
      )}
      {streaks.because === undefined ? null : (
        <Fold title={words.answer.serverWords}>
          <p>{sentenceInUnits(streaks.because, units)}</p>
        </Fold>
      )}
    </section>
  );
}
