import { useState } from 'react';
import type { SubmitEvent, ReactNode } from 'react';
import type { Role } from '@domain/api/roles.ts';
import { useChange } from '../../api/use-answer.ts';
import { Button, LinkButton } from '../../components/button.tsx';
import { TextField } from '../../components/field.tsx';
import { Notice } from '../../components/notice.tsx';
import { Page } from '../../components/page.tsx';
import { words } from '../../i18n/words.ts';
import '../../styles/shop.css';
import { textOf } from '../sign-in/door.tsx';
import { InvitationCard } from './invitation-card.tsx';
import { RolePicker } from './role-picker.tsx';

export function NewPersonScreen(): ReactNode {
  const [role, setRole] = useState<Role>('operator');
  const invite = useChange('invitePerson');
  const submit = (event: SubmitEvent<HTMLFormElement>): void => {
    event.preventDefault();
    if (invite.isPending) return;
    const entries = new FormData(event.currentTarget);
    invite.mutate({ body: { name: textOf(entries, 'name'), signInName: textOf(entries, 'signInName'), role } });
  };
  return (
    <Page title={words.people.invite} above={{ to: '/people', word: words.people.title }}>
      {invite.data === undefined ? (
        <form className="stack stack-wide" onSubmit={submit}>
          <TextField
            label={words.people.name}
            hint={words.people.nameHint}
            name="name"
            maxLength={120}
            autoComplete="off"
            required
          />
          <TextField
            label={words.people.signInName}
            hint={words.people.signInNameHint}
            name="signInName"
            autoComplete="off"
            autoCapitalize="none"
            required
          />
          <RolePicker role={role} onPick={setRole} />
          {invite.error === null ? null : <Notice kind="fault">{invite.error.message}</Notice>}
          <Button type="submit" look="primary" isWide isBusy={invite.isPending}>
            {words.people.inviteGo}
          </Button>
        </form>
      ) : (
        <>
          <InvitationCard name={invite.data.person.name} invitation={invite.data.invitation} />
          <div className="actions">
            <LinkButton look="primary" isWide to="/people">
              {words.people.done}
            </LinkButton>
          </div>
        </>
      )}
    </Page>
  );
}
