import type { ReactNode } from 'react';
import { words } from '../i18n/words.ts';
import { Button } from './button.tsx';
import { Notice } from './notice.tsx';

/** A sign of life, at once. */
export function Waiting({ word = words.waiting }: { word?: string }): ReactNode {
  return (
    <p className="waiting" role="status">
      <span className="spinner" aria-hidden="true" />
      {word}
    </p>
  );
}

interface Reading {
  readonly error: Error | null;
  readonly refetch: () => unknown;
}

/** What stands in place of something that is still being read, or could not be. */
export function NotHereYet({ reading }: { reading: Reading }): ReactNode {
  if (reading.error === null) return <Waiting />;
  return (
    <div className="stack">
      <Notice kind="fault">{reading.error.message}</Notice>
      <div>
        <Button
          onClick={() => {
            reading.refetch();
          }}
        >
          {words.tryAgain}
        </Button>
      </div>
    </div>
  );
}
