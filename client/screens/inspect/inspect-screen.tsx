import { useState } from 'react';
import type { ReactNode } from 'react';
import { useParams } from 'react-router';
import { PHOTO_ROLES } from '@domain/api/photos.ts';
import type { PhotoRole } from '@domain/api/photos.ts';
import { useAnswer } from '../../api/use-answer.ts';
import { LinkButton } from '../../components/button.tsx';
import { EmptyState } from '../../components/empty-state.tsx';
import { Fold } from '../../components/fold.tsx';
import { GradeTable } from '../../components/grade-table.tsx';
import { Page } from '../../components/page.tsx';
import { PickOne } from '../../components/pick-one.tsx';
import { NotHereYet } from '../../components/waiting.tsx';
import { words } from '../../i18n/words.ts';
import '../../styles/inspect.css';
import { pictureFrame } from '../../viewer/picture-frame.ts';
import type { AnswerProps } from '../answer/answer-props.ts';
import { WarningsFold } from '../answer/answer-folds.tsx';
import { CorrectionDesk } from './correction-desk.tsx';
import { DecisionPlate } from './decision-plate.tsx';
import { ScrapeAndRemarks } from './scrape-and-remarks.tsx';

const ABOVE = { to: '/inspect', word: words.inspect.title };

/** One answer under an inspector's eyes: the decision with its reasons, the class map to correct, the knife, remarks. */
export function InspectScreen(): ReactNode {
  const { assessmentId = '' } = useParams();
  const assessment = useAnswer('readAssessment', { params: { assessmentId } });
  if (assessment.data === undefined) return <NotHereYet reading={assessment} />;
  const { result, zoneName, roundNumber } = assessment.data;
  return (
    <Page title={words.inspect.page(zoneName, roundNumber)} above={ABOVE} lead={assessment.data.jobName} isWide>
      {result === null ? (
        <EmptyState title={words.inspect.notDone}>
          <LinkButton to={`/assessments/${assessmentId}/progress`}>{words.round.workingTitle}</LinkButton>
        </EmptyState>
      ) : (
        <Inspection assessment={assessment.data} result={result} />
      )}
    </Page>
  );
}

function Inspection({ assessment, result }: AnswerProps): ReactNode {
  const { id, targetGrade, roundId, zoneId, basis, corrected } = assessment;
  const anew = corrected.after?.decided?.grades ?? [];
  return (
    <>
      <DecisionPlate assessment={assessment} result={result} />
      <MapPart assessment={assessment} result={result} />
      <div className="inspect-low">
        <section className="stack">
          <h2>{words.inspect.grades}</h2>
          {anew.length === 0 ? (
            <GradeTable grades={result.grades} target={targetGrade} />
          ) : (
            <>
              <h3>{words.inspect.gradesCorrected}</h3>
              <GradeTable grades={anew} target={targetGrade} label={words.inspect.gradesCorrected} />
              <Fold title={words.inspect.gradesMeasured}>
                <GradeTable grades={result.grades} target={targetGrade} label={words.inspect.gradesMeasured} />
              </Fold>
            </>
          )}
          <p className="muted small">{words.inspect.decidedAnew}</p>
          <WarningsFold warnings={result.warnings} />
        </section>
        <ScrapeAndRemarks roundId={roundId} counted={basis.scrapeTest} />
      </div>
      <div className="actions">
        <LinkButton to={`/zones/${zoneId}/record`} icon="record">
          {words.records.ofZone}
        </LinkButton>
        <LinkButton to={`/assessments/${id}`}>{words.inspect.answer}</LinkButton>
      </div>
    </>
  );
}

function MapPart({ assessment, result }: AnswerProps): ReactNode {
  const { id } = assessment;
  const corrections = useAnswer('listCorrections', { params: { assessmentId: id } });
  const [frames] = useState(() => ({
    before: pictureFrame(assessment, 'before'),
    after: pictureFrame(assessment, 'after'),
  }));
  const [role, setRole] = useState<PhotoRole>('after');
  const [frame, surface] = [frames[role], result[role]];
  return (
    <section className="stack">
      <h2>{words.inspect.desk}</h2>
      {result.segmenter === undefined ? null : <p className="muted">{words.inspect.segmenter(result.segmenter)}</p>}
      {frames.before === null || assessment.classMaps.before === null ? null : (
        <PickOne
          isNarrow
          label={words.inspect.map}
          options={PHOTO_ROLES.toReversed().map((value) => ({ value, word: words.inspect.maps[value] }))}
          value={role}
          onPick={setRole}
        />
      )}
      {corrections.data === undefined || frame === null || surface === null ? (
        <NotHereYet reading={corrections} />
      ) : (
        <CorrectionDesk
          key={role}
          assessment={assessment}
          role={role}
          frame={frame}
          surface={surface}
          corrections={corrections.data}
        />
      )}
    </section>
  );
}
