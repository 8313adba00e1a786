import type { ReactNode } from 'react';
import { Navigate, useNavigate, useParams } from 'react-router';
import type { Progress, ZoneAssessment } from '@domain/api/assessments.ts';
import { urlOf } from '../../api/call.ts';
import { useProgress } from '../../api/follow-progress.ts';
import type { FollowedProgress } from '../../api/follow-progress.ts';
import { useAnswer, useChange } from '../../api/use-answer.ts';
import { Button, LinkButton } from '../../components/button.tsx';
import { Icon } from '../../components/icon.tsx';
import { Notice } from '../../components/notice.tsx';
import { Page } from '../../components/page.tsx';
import { NotHereYet, Waiting } from '../../components/waiting.tsx';
import { words } from '../../i18n/words.ts';
import { RoundSteps } from '../check/round-steps.tsx';

const LOOK_AGAIN_MS = 5_000;

/** Stage by stage to the answer. */
export function WorkingScreen(): ReactNode {
  const { assessmentId = '' } = useParams();
  const params = { assessmentId };
  const assessment = useAnswer('readAssessment', { params }, { refetchInterval: LOOK_AGAIN_MS });
  const followed = useProgress(urlOf('followAssessment', { params }));
  const state = followed.progress?.state ?? assessment.data?.state;
  if (assessment.data === undefined) return <NotHereYet reading={assessment} />;
  if (state === 'done' || assessment.data.state === 'done') {
    return <Navigate to={`/assessments/${assessmentId}`} replace />;
  }
  const { zoneId, zoneName } = assessment.data;
  const progress = followed.progress ?? assessment.data.progress;
  return (
    <Page title={words.round.workingTitle} above={{ to: `/zones/${zoneId}`, word: zoneName }}>
      <RoundSteps at={3} />
      {progress.state === 'failed' ? (
        <Failed assessment={assessment.data} progress={progress} />
      ) : (
        <Stages followed={followed} progress={progress} />
      )}
    </Page>
  );
}

function Stages({ followed, progress }: { followed: FollowedProgress; progress: Progress }): ReactNode {
  const { stages, hasSignal } = followed;
  const now = stages.length - 1;
  return (
    <div className="stack stack-wide">
      <progress className="progress" max={1} value={progress.fractionDone} aria-label={words.round.workingTitle} />
      <p className="unseen" role="status">
        {progress.state === 'queued' ? words.round.queued(progress.waitingBefore) : (progress.stage ?? '')}
      </p>
      {progress.state === 'queued' ? <Waiting word={words.round.queued(progress.waitingBefore)} /> : null}
      {progress.state === 'running' && stages.length === 0 ? <Waiting word={words.round.starting} /> : null}
      <ol className="stages">
        {stages.map((stage, index) => (
          <li key={`${index} ${stage}`} className={index === now ? 'stage-now' : ''}>
            {index === now ? <span className="spinner" aria-hidden="true" /> : <Icon name="tick" />}
            <span>{stage}</span>
            <span className="unseen">{index === now ? words.round.stageNow : words.round.stageDone}</span>
          </li>
        ))}
      </ol>
      {hasSignal ? null : <Notice kind="note">{words.round.signalGone}</Notice>}
      <p className="muted">{words.round.workingHint}</p>
    </div>
  );
}

function Failed({ assessment, progress }: { assessment: ZoneAssessment; progress: Progress }): ReactNode {
  const start = useChange('startAssessment');
  const navigate = useNavigate();
  const { roundId } = assessment;
  const sentence = progress.fault?.sentence ?? assessment.fault?.sentence ?? words.round.failedTitle;
  return (
    <div className="stack stack-wide">
      <Notice kind="fault">
        <strong>{words.round.failedTitle}.</strong> {sentence}
      </Notice>
      <div className="actions">
        <LinkButton look="primary" isWide to={`/rounds/${roundId}/photos`}>
          {words.round.failedPhotos}
        </LinkButton>
        <LinkButton to={`/rounds/${roundId}/zone/after`}>{words.round.failedZone}</LinkButton>
        <Button
          isBusy={start.isPending}
          onClick={() => {
            start.mutate(
              { params: { roundId }, body: {} },
              { onSuccess: ({ id }) => void navigate(`/assessments/${id}/progress`) },
            );
          }}
        >
          {words.round.failedAgain}
        </Button>
      </div>
      {start.error === null ? null : <Notice kind="fault">{start.error.message}</Notice>}
    </div>
  );
}
