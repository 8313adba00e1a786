import { useState } from 'react';
import type { SubmitEvent, ReactNode } from 'react';
import { useNavigate } from 'react-router';
import type { ZoneRound } from '@domain/api/rounds.ts';
import { newId } from '../../api/new-id.ts';
import { useAnswer, useChange } from '../../api/use-answer.ts';
import { Button } from '../../components/button.tsx';
import { TextArea } from '../../components/field.tsx';
import { Notice } from '../../components/notice.tsx';
import { PickOne } from '../../components/pick-one.tsx';
import { NotHereYet } from '../../components/waiting.tsx';
import { words } from '../../i18n/words.ts';
import { textOf } from '../sign-in/door.tsx';

/** What a photo cannot tell: the knife, and the inspector's own words. */
export function ScrapeAndRemarks({
  roundId,
  counted,
}: {
  roundId: string;
  counted: ZoneRound['scrapeTest'];
}): ReactNode {
  const round = useAnswer('readRound', { params: { roundId } });
  return (
    <section className="stack">
      <h2>{words.inspect.round}</h2>
      {round.data === undefined ? (
        <NotHereYet reading={round} />
      ) : (
        <>
          <ScrapeTest round={round.data} counted={counted} />
          <Remarks round={round.data} />
        </>
      )}
    </section>
  );
}

/** @param props.counted the scrape test that this answer was made with */
function ScrapeTest({ round, counted }: { round: ZoneRound; counted: ZoneRound['scrapeTest'] }): ReactNode {
  const change = useChange('changeRound');
  const start = useChange('startAssessment');
  const navigate = useNavigate();
  const [picked, setPicked] = useState<ZoneRound['scrapeTest'] | undefined>(undefined);
  const shown = picked === undefined ? round.scrapeTest : picked;
  const options = [
    { value: 'none', word: words.round.scrapeChoices.none },
    { value: 'clean', word: words.round.scrapeChoices.clean },
    { value: 'material came off', word: words.round.scrapeChoices.came },
  ] as const;
  const pick = (value: (typeof options)[number]['value']): void => {
    const scrapeTest = value === 'none' ? null : value;
    setPicked(scrapeTest);
    const settle = (): void => {
      setPicked(undefined);
    };
    change.mutate({ params: { roundId: round.id }, body: { scrapeTest } }, { onSettled: settle });
  };
  const measureAgain = (): void => {
    const id = newId();
    const go = (): void => void navigate(`/assessments/${id}/progress`);
    start.mutate({ params: { roundId: round.id }, body: { id } }, { onSuccess: go });
  };
  return (
    <div className="stack stack-tight">
      <PickOne label={words.round.scrape} options={options} value={shown ?? 'none'} onPick={pick} />
      <p className="field-hint">{words.inspect.scrapeHint}</p>
      {change.error === null ? null : <Notice kind="fault">{change.error.message}</Notice>}
      {start.error === null ? null : <Notice kind="fault">{start.error.message}</Notice>}
      {shown === counted ? null : (
        <div>
          <Button isBusy={start.isPending || change.isPending} onClick={measureAgain}>
            {words.inspect.again}
          </Button>
        </div>
      )}
    </div>
  );
}

function Remarks({ round: { id, note } }: { round: ZoneRound }): ReactNode {
  const change = useChange('changeRound');
  const submit = (event: SubmitEvent<HTMLFormElement>): void => {
    event.preventDefault();
    const entries = new FormData(event.currentTarget);
    change.mutate({ params: { roundId: id }, body: { note: textOf(entries, 'note') } });
  };
  return (
    <form className="stack stack-tight" onSubmit={submit}>
      <TextArea label={words.inspect.remarks} name="note" defaultValue={note} maxLength={4000} />
      {change.error === null ? null : <Notice kind="fault">{change.error.message}</Notice>}
      <div className="row">
        <Button type="submit" isBusy={change.isPending}>
          {words.inspect.keepRemarks}
        </Button>
        <span role="status">{change.isSuccess ? words.inspect.remarksKept : ''}</span>
      </div>
    </form>
  );
}
