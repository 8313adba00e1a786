import { useState } from 'react';
import type { SubmitEvent, ReactNode } from 'react';
import { useParams } from 'react-router';
import type { Person } from '@domain/api/people.ts';
import type { Role } from '@domain/api/roles.ts';
import { useAnswer, useChange } from '../../api/use-answer.ts';
import { Button } from '../../components/button.tsx';
import { TextField } from '../../components/field.tsx';
import { Notice } from '../../components/notice.tsx';
import { Page } from '../../components/page.tsx';
import { NotHereYet } from '../../components/waiting.tsx';
import { words } from '../../i18n/words.ts';
import { useWho } from '../../session/who.ts';
import '../../styles/shop.css';
import { textOf } from '../sign-in/door.tsx';
import { InvitationCard } from './invitation-card.tsx';
import { presenceOf } from './people-screen.tsx';
import { RolePicker } from './role-picker.tsx';

export function PersonScreen(): ReactNode {
  const { personId = '' } = useParams();
  const person = useAnswer('readPerson', { params: { personId } });
  const who = useWho();
  if (person.data === undefined) return <NotHereYet reading={person} />;
  const isSelf = who.data?.person?.id === personId;
  const { name, signInName, isActive } = person.data;
  const lead = [signInName, isActive ? presenceOf(person.data) : words.people.off].join(' · ');
  return (
    <Page title={name} above={{ to: '/people', word: words.people.title }} lead={lead}>
      <NameForm person={person.data} />
      {isSelf ? (
        <Notice kind="note">{words.people.selfHint}</Notice>
      ) : (
        <>
          <RoleChoice person={person.data} />
          <LinkPart person={person.data} />
          <EndSessions personId={personId} />
          <SwitchOff person={person.data} />
        </>
      )}
    </Page>
  );
}

function NameForm({ person: { id, name } }: { person: Person }): ReactNode {
  const change = useChange('changePerson');
  const submit = (event: SubmitEvent<HTMLFormElement>): void => {
    event.preventDefault();
    change.mutate({ params: { personId: id }, body: { name: textOf(new FormData(event.currentTarget), 'name') } });
  };
  return (
    <form className="stack" onSubmit={submit}>
      <TextField label={words.people.name} name="name" defaultValue={name} maxLength={120} required />
      {change.error === null ? null : <Notice kind="fault">{change.error.message}</Notice>}
      <div className="row">
        <Button type="submit" isBusy={change.isPending}>
          {words.people.keepName}
        </Button>
        <span role="status">{change.isSuccess ? words.people.kept : ''}</span>
      </div>
    </form>
  );
}

function RoleChoice({ person: { id, role } }: { person: Person }): ReactNode {
  const change = useChange('changePerson');
  // What was just picked shows at once, before the server has said yes.
  const [picked, setPicked] = useState<Role | null>(null);
  return (
    <div className="stack">
      <RolePicker
        role={picked ?? role}
        onPick={(next) => {
          setPicked(next);
          const settle = (): void => {
            setPicked(null);
          };
          change.mutate({ params: { personId: id }, body: { role: next } }, { onSettled: settle });
        }}
      />
      {change.error === null ? null : <Notice kind="fault">{change.error.message}</Notice>}
    </div>
  );
}

function LinkPart({ person: { id, name, isActive } }: { person: Person }): ReactNode {
  const renew = useChange('renewInvitation');
  if (!isActive) return null;
  if (renew.data !== undefined) return <InvitationCard name={name} invitation={renew.data} />;
  return (
    <section className="stack stack-tight">
      {renew.error === null ? null : <Notice kind="fault">{renew.error.message}</Notice>}
      <p className="muted">{words.people.newLinkHint}</p>
      <div>
        <Button
          isBusy={renew.isPending}
          onClick={() => {
            renew.mutate({ params: { personId: id } });
          }}
        >
          {words.people.newLink}
        </Button>
      </div>
    </section>
  );
}

function EndSessions({ personId }: { personId: string }): ReactNode {
  const revoke = useChange('revokeSessionsOfPerson');
  return (
    <section className="stack stack-tight">
      <p className="muted">{words.people.endSessionsHint}</p>
      <div className="row">
        <Button
          isBusy={revoke.isPending}
          onClick={() => {
            revoke.mutate({ params: { personId } });
          }}
        >
          {words.people.endSessions}
        </Button>
        <span role="status">{revoke.isSuccess ? words.people.ended : ''}</span>
      </div>
    </section>
  );
}

function SwitchOff({ person: { id, isActive } }: { person: Person }): ReactNode {
  const change = useChange('changePerson');
  return (
    <section className="stack stack-tight">
      <p className="muted">{words.people.switchOffHint}</p>
      {change.error === null ? null : <Notice kind="fault">{change.error.message}</Notice>}
      <div>
        <Button
          isBusy={change.isPending}
          onClick={() => {
            change.mutate({ params: { personId: id }, body: { isActive: !isActive } });
          }}
        >
          {isActive ? words.people.switchOff : words.people.switchOn}
        </Button>
      </div>
    </section>
  );
}
