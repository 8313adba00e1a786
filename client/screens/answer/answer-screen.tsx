import type { ReactNode } from 'react';
import { Navigate, useParams } from 'react-router';
import { useAnswer } from '../../api/use-answer.ts';
import { LinkButton } from '../../components/button.tsx';
import { Page } from '../../components/page.tsx';
import { NotHereYet } from '../../components/waiting.tsx';
import { words } from '../../i18n/words.ts';
import { useMayCall } from '../../session/who.ts';
import type { AnswerProps } from './answer-props.ts';
import { AnswerPlate } from './answer-plate.tsx';
import { GradesFold, WarningsFold } from './answer-folds.tsx';
import { NextSetting } from './next-setting.tsx';
import { StreakSection } from './streak-section.tsx';
import { WhatIsLeft } from './what-is-left.tsx';
import { WorstSquare } from './worst-square.tsx';

export function AnswerScreen(): ReactNode {
  const { assessmentId = '' } = useParams();
  const assessment = useAnswer('readAssessment', { params: { assessmentId } });
  if (assessment.data === undefined) return <NotHereYet reading={assessment} />;
  const { result } = assessment.data;
  if (result === null) return <Navigate to={`/assessments/${assessmentId}/progress`} replace />;
  return <Answer assessment={assessment.data} result={result} />;
}

function Answer({ assessment, result }: AnswerProps): ReactNode {
  const { zoneId, zoneName, roundNumber, jobName } = assessment;
  const [mayInspect, mayTeach] = [useMayCall('addCorrection'), useMayCall('addLesson')];
  return (
    <Page title={words.answer.title(zoneName, roundNumber)} above={{ to: `/zones/${zoneId}`, word: jobName }} isWide>
      <div className="answer">
        <div className="answer-main">
          <AnswerPlate assessment={assessment} result={result} />
          <WhatIsLeft assessment={assessment} result={result} />
          <NextSetting assessment={assessment} result={result} />
        </div>
        <div className="answer-side">
          <WorstSquare assessment={assessment} result={result} />
          <StreakSection assessment={assessment} result={result} />
          <div>
            <GradesFold grades={result.grades} target={assessment.targetGrade} />
            <WarningsFold warnings={result.warnings} />
          </div>
          <p className="muted small">{words.answer.measuredAs}</p>
        </div>
      </div>
      <div className="actions">
        <LinkButton to={`/zones/${zoneId}`} icon="story">
          {words.answer.story}
        </LinkButton>
        <LinkButton to="/">{words.answer.anotherZone}</LinkButton>
        {mayTeach ? <LinkButton to={`/teach/new?answer=${assessment.id}`}>{words.teach.fromAnswer}</LinkButton> : null}
        {mayInspect ? <LinkButton to={`/inspect/${assessment.id}`}>{words.inspect.open}</LinkButton> : null}
      </div>
    </Page>
  );
}
