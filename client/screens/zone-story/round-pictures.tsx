import type { ReactNode } from 'react';
import { useAnswer } from '../../api/use-answer.ts';
import { NotHereYet } from '../../components/waiting.tsx';
import { words } from '../../i18n/words.ts';
import { PairViewer } from '../../viewer/pair-viewer.tsx';

/** The photos of one round that has its answer. */
export function RoundPictures({ assessmentId, roundNumber }: { assessmentId: string; roundNumber: number }): ReactNode {
  const assessment = useAnswer('readAssessment', { params: { assessmentId } });
  return (
    <section className="stack pictures-of-round">
      <h2>{words.story.pictures(roundNumber)}</h2>
      {assessment.data === undefined ? (
        <NotHereYet reading={assessment} />
      ) : (
        <PairViewer assessment={assessment.data} />
      )}
    </section>
  );
}
