import { useQueryClient } from '@tanstack/react-query';
import { useEffect, useRef, useState } from 'react';
import type { ReactNode } from 'react';
import type { ShopTrial } from '@domain/api/trials.ts';
import { urlOf } from '../../api/call.ts';
import { useProgress } from '../../api/follow-progress.ts';
import { useChange } from '../../api/use-answer.ts';
import { Fold } from '../../components/fold.tsx';
import { Notice } from '../../components/notice.tsx';
import { words } from '../../i18n/words.ts';
import { measurePatches } from './measure-patches.ts';

/** The photo of the cleaned coupon: sent, measured patch by patch, fitted. */
export function TrialPhoto({ trial }: { trial: ShopTrial }): ReactNode {
  if (trial.result === null) return <SendPhoto trial={trial} />;
  return (
    <div>
      <Fold title={words.trials.again}>
        <SendPhoto trial={trial} />
      </Fold>
    </div>
  );
}

function SendPhoto({ trial }: { trial: ShopTrial }): ReactNode {
  const client = useQueryClient();
  const [comparisonId, setComparisonId] = useState<string | null>(null);
  const [isSending, setSending] = useState(false);
  const [error, setError] = useState<Error | null>(null);
  const stopper = useRef<AbortController | null>(null);
  useEffect(() => () => stopper.current?.abort(), []);
  const send = (file: File): void => {
    stopper.current = new AbortController();
    setError(null);
    setSending(true);
    measurePatches(trial.plan, file, stopper.current.signal)
      .then(setComparisonId)
      .catch((reason: unknown) => {
        setError(reason instanceof Error ? reason : new Error(String(reason)));
      })
      .finally(() => {
        setSending(false);
        void client.invalidateQueries({ queryKey: ['listComparisons'] });
      });
  };
  return (
    <section className="stack">
      <h2>{words.trials.photoTitle}</h2>
      <p>{words.trials.photoLead}</p>
      <label className="field">
        <span>{words.trials.choosePhoto}</span>
        <input
          type="file"
          accept="image/*,.heic"
          className="input"
          disabled={isSending || comparisonId !== null}
          onChange={(event) => {
            const file = event.target.files?.item(0);
            if (file !== null && file !== undefined) send(file);
          }}
        />
      </label>
      <div role="status">{isSending ? <p>{words.trials.sending}</p> : null}</div>
      {error === null ? null : <Notice kind="fault">{error.message}</Notice>}
      {comparisonId === null ? null : (
        <Reading
          trialId={trial.id}
          comparisonId={comparisonId}
          onEnd={() => {
            setComparisonId(null);
          }}
          onFail={setError}
        />
      )}
    </section>
  );
}

function Reading({
  trialId,
  comparisonId,
  onEnd,
  onFail,
}: {
  trialId: string;
  comparisonId: string;
  onEnd: () => void;
  onFail: (error: Error) => void;
}): ReactNode {
  const { progress } = useProgress(urlOf('followComparison', { params: { comparisonId } }));
  const fit = useChange('fitTrial');
  const asked = useRef(false);
  const state = progress?.state;
  const sentence = progress?.fault?.sentence;
  useEffect(() => {
    if (asked.current || (state !== 'done' && state !== 'failed')) return;
    asked.current = true;
    if (state === 'failed') {
      onFail(new Error(sentence ?? words.errors.noSignal));
      onEnd();
      return;
    }
    fit.mutate({ params: { trialId }, body: { comparisonId } }, { onSettled: onEnd, onError: onFail });
  }, [state, sentence, fit, trialId, comparisonId, onEnd, onFail]);
  return (
    <p role="status">
      <span className="spinner" aria-hidden="true" /> {words.trials.reading}
    </p>
  );
}
