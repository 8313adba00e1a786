import { useState } from 'react';
import type { ReactNode } from 'react';
import { Link } from 'react-router';
import type { AssessmentSummary } from '@domain/api/assessments.ts';
import { usePages } from '../../api/use-answer.ts';
import { EmptyState } from '../../components/empty-state.tsx';
import { SelectField } from '../../components/field.tsx';
import { Listing, SearchBox, useSearch } from '../../components/listing.tsx';
import { Page } from '../../components/page.tsx';
import { StandingMark } from '../../components/standing-mark.tsx';
import { words } from '../../i18n/words.ts';
import { formatDay } from '../../units/format-moment.ts';
import { leftWords } from '../zones/left-words.ts';
import { ANSWER_MARKS, shownAnswer } from '../answer/answer-of.ts';

const SORTS = ['-queuedAt', 'queuedAt', '-residue', 'residue'] as const;

/** Answers to look over. */
export function InspectionsScreen(): ReactNode {
  const { typed, q, setTyped } = useSearch();
  const [sort, setSort] = useState<(typeof SORTS)[number]>('-queuedAt');
  const assessments = usePages('listAssessments', { query: { q, sort, state: 'done' } });
  return (
    <Page title={words.inspect.title} lead={words.inspect.lead}>
      <div className="grid-two">
        <SearchBox label={words.inspect.searchLabel} typed={typed} onType={setTyped} />
        <SelectField
          label={words.inspect.sortLabel}
          value={sort}
          choices={SORTS.map((value) => ({ value, word: words.inspect.sorts[value] }))}
          onChange={(event) => {
            setSort(SORTS.find((each) => each === event.target.value) ?? '-queuedAt');
          }}
        />
      </div>
      <Listing
        pages={assessments}
        row={(assessment) => <InspectionRow assessment={assessment} />}
        empty={
          <EmptyState title={words.inspect.none}>
            <p>{q === undefined ? words.inspect.noneHint : words.inspect.noneFound}</p>
          </EmptyState>
        }
      />
    </Page>
  );
}

function InspectionRow({ assessment }: { assessment: AssessmentSummary }): ReactNode {
  const { id, zoneName, jobName, roundNumber, queuedAt } = assessment;
  const kind = shownAnswer(assessment);
  return (
    <Link to={`/inspect/${id}`} className="row-link zone-row">
      <span className="row-name">{zoneName}</span>
      <span className="standing">
        <StandingMark mark={ANSWER_MARKS[kind]} />
        {words.answer.big[kind]}
      </span>
      <span className="muted small">{words.inspect.row(jobName, roundNumber, formatDay(queuedAt))}</span>
      <span className="muted small zone-row-left">{leftWords(assessment)}</span>
    </Link>
  );
}
