import { useId, useRef } from 'react';
import type { ReactNode } from 'react';
import { words } from '../i18n/words.ts';
import { Button } from './button.tsx';
import { Notice } from './notice.tsx';

/** A key for what cannot be undone: it asks first, and keeping is the way out that stands out. */
export function RemoveKey({
  word,
  title,
  hint,
  go,
  removal,
  onRemove,
}: {
  word: string;
  title: string;
  hint: string;
  go: string;
  removal: { readonly isPending: boolean; readonly error: Error | null };
  onRemove: () => void;
}): ReactNode {
  const dialog = useRef<HTMLDialogElement>(null);
  const titleId = useId();
  return (
    <>
      <Button
        look="plain"
        onClick={() => {
          dialog.current?.showModal();
        }}
      >
        {word}
      </Button>
      <dialog ref={dialog} className="dialog" aria-labelledby={titleId}>
        <div className="stack">
          <h2 id={titleId}>{title}</h2>
          <p>{hint}</p>
          {removal.error === null ? null : <Notice kind="fault">{removal.error.message}</Notice>}
          <div className="actions">
            <Button isBusy={removal.isPending} onClick={onRemove}>
              {go}
            </Button>
            <Button
              look="primary"
              onClick={() => {
                dialog.current?.close();
              }}
            >
              {words.jobs.keep}
            </Button>
          </div>
        </div>
      </dialog>
    </>
  );
}
