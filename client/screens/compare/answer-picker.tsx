import { useState } from 'react';
import type { ReactNode } from 'react';
import type { AssessmentSummary } from '@domain/api/assessments.ts';
import type { NewComparison } from '@domain/api/comparisons.ts';
import { usePages } from '../../api/use-answer.ts';
import { EmptyState } from '../../components/empty-state.tsx';
import { Listing, SearchBox, useSearch } from '../../components/listing.tsx';
import { words } from '../../i18n/words.ts';
import { formatDay } from '../../units/format-moment.ts';
import { formatShare } from '../../units/shown-units.ts';

const LEAST_SIDES = 2;
const MOST_SIDES = 6;

/** Two to six answers, ticked in a list. */
export function AnswerPicker({ onPick }: { onPick: (of: NewComparison['of'] | null) => void }): ReactNode {
  const { typed, q, setTyped } = useSearch();
  const [picked, setPicked] = useState<readonly string[]>([]);
  const answers = usePages('listAssessments', { query: { q, state: 'done' } });
  const turn = (id: string): void => {
    const next = picked.includes(id) ? picked.filter((each) => each !== id) : [...picked, id];
    if (next.length > MOST_SIDES) return;
    setPicked(next);
    onPick(next.length < LEAST_SIDES ? null : { kind: 'assessments', assessmentIds: [...next] });
  };
  return (
    <section className="stack">
      <h2>{words.compare.pickTitle}</h2>
      <SearchBox label={words.inspect.searchLabel} typed={typed} onType={setTyped} />
      <p role="status" className="muted">
        {words.compare.picked(picked.length)}
      </p>
      <Listing
        pages={answers}
        row={(answer) => (
          <AnswerRow
            answer={answer}
            isPicked={picked.includes(answer.id)}
            onTurn={() => {
              turn(answer.id);
            }}
          />
        )}
        empty={
          <EmptyState title={words.compare.pickNone}>
            <p>{q === undefined ? words.compare.pickNoneHint : words.inspect.noneFound}</p>
          </EmptyState>
        }
      />
    </section>
  );
}

function AnswerRow({
  answer: { zoneName, jobName, roundNumber, queuedAt, residue },
  isPicked,
  onTurn,
}: {
  answer: AssessmentSummary;
  isPicked: boolean;
  onTurn: () => void;
}): ReactNode {
  return (
    <label className="tick-row">
      <input type="checkbox" checked={isPicked} onChange={onTurn} />
      <span>
        <span className="row-name">{zoneName}</span>
        <br />
        <span className="muted small">{words.inspect.row(jobName, roundNumber, formatDay(queuedAt))}</span>
      </span>
      <span className="muted">{residue === null ? '' : words.zones.left(formatShare(residue.value))}</span>
    </label>
  );
}
