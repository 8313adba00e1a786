import type { SubmitEvent, ReactNode } from 'react';
import type { Session } from '@domain/api/people.ts';
import { useAnswer, useChange } from '../../api/use-answer.ts';
import { Button } from '../../components/button.tsx';
import { TextField } from '../../components/field.tsx';
import { Fold } from '../../components/fold.tsx';
import { Notice } from '../../components/notice.tsx';
import { words } from '../../i18n/words.ts';
import { formatMoment } from '../../units/format-moment.ts';
import { textOf } from '../sign-in/door.tsx';
import { NewPasswordField } from '../sign-in/setup-screen.tsx';

export function PasswordFold(): ReactNode {
  const change = useChange('changePassword');
  const submit = (event: SubmitEvent<HTMLFormElement>): void => {
    event.preventDefault();
    const form = event.currentTarget;
    const entries = new FormData(form);
    change.mutate(
      { body: { current: textOf(entries, 'current'), next: textOf(entries, 'next') } },
      {
        onSuccess: () => {
          form.reset();
        },
      },
    );
  };
  return (
    <Fold title={words.me.passwordTitle}>
      <form className="stack" onSubmit={submit}>
        <TextField label={words.me.current} name="current" type="password" autoComplete="current-password" required />
        <NewPasswordField label={words.me.next} name="next" />
        {change.error === null ? null : <Notice kind="fault">{change.error.message}</Notice>}
        <div role="status">{change.isSuccess ? <Notice kind="note">{words.me.changed}</Notice> : null}</div>
        <div>
          <Button type="submit" isBusy={change.isPending}>
            {words.me.change}
          </Button>
        </div>
      </form>
    </Fold>
  );
}

export function SessionsFold(): ReactNode {
  const sessions = useAnswer('listOwnSessions', {});
  return (
    <Fold title={words.me.sessions}>
      <ul className="rows">
        {(sessions.data?.items ?? []).map((session) => (
          <SessionRow key={session.id} session={session} />
        ))}
      </ul>
    </Fold>
  );
}

function SessionRow({ session }: { session: Session }): ReactNode {
  const revoke = useChange('revokeOwnSession');
  return (
    <li className="row-link">
      <span>
        {session.device}
        <br />
        <span className="small muted">{words.me.lastSeen(formatMoment(session.lastSeenAt))}</span>
      </span>
      {session.isCurrent ? (
        <span className="tag">{words.me.thisOne}</span>
      ) : (
        <Button
          onClick={() => {
            revoke.mutate({ params: { sessionId: session.id } });
          }}
        >
          {words.me.endSession}
        </Button>
      )}
    </li>
  );
}
