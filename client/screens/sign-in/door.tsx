import type { SubmitEvent, ReactNode } from 'react';
import { Button } from '../../components/button.tsx';
import { Notice } from '../../components/notice.tsx';
import { words } from '../../i18n/words.ts';

/** The page before anybody is signed in: the mark, one form, nothing else. */
export function Door({ title, lead, children }: { title: string; lead?: string; children: ReactNode }): ReactNode {
  return (
    <main className="door">
      <p className="door-name">
        <img src="/mark.svg" width="44" height="44" alt="" />
        {words.programName}
      </p>
      <div className="stack">
        <h1>{title}</h1>
        {lead === undefined ? null : <p className="muted">{lead}</p>}
      </div>
      {children}
    </main>
  );
}

export function DoorForm({
  go,
  isBusy,
  error,
  onSubmit,
  children,
}: {
  go: string;
  isBusy: boolean;
  error: Error | null;
  onSubmit: (entries: FormData) => void;
  children: ReactNode;
}): ReactNode {
  const submit = (event: SubmitEvent<HTMLFormElement>): void => {
    event.preventDefault();
    if (!isBusy) onSubmit(new FormData(event.currentTarget));
  };
  return (
    <form className="stack stack-wide" onSubmit={submit}>
      {children}
      {error === null ? null : <Notice kind="fault">{error.message}</Notice>}
      <Button type="submit" look="primary" isWide isBusy={isBusy}>
        {go}
      </Button>
    </form>
  );
}

/** Text of a field of a form; empty when the field is missing. */
export function textOf(entries: FormData, name: string): string {
  const value = entries.get(name);
  return typeof value === 'string' ? value : '';
}
