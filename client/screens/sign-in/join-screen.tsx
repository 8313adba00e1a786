import { useQuery } from '@tanstack/react-query';
import type { ReactNode } from 'react';
import { useNavigate } from 'react-router';
import { call } from '../../api/call.ts';
import { useChange } from '../../api/use-answer.ts';
import { Notice } from '../../components/notice.tsx';
import { NotHereYet } from '../../components/waiting.tsx';
import { words } from '../../i18n/words.ts';
import { Door, DoorForm, textOf } from './door.tsx';
import { useLinkToken } from './link-token.ts';
import { NewPasswordField } from './setup-screen.tsx';

/** Opened from an invitation, or from the link for a forgotten password. */
export function JoinScreen(): ReactNode {
  const token = useLinkToken();
  const join = useChange('useInvitation');
  const look = useQuery({
    queryKey: ['lookAtInvitation', token],
    queryFn: () => call('lookAtInvitation', { body: { token: token ?? '' } }),
    // A link that is being used up is not looked at again.
    enabled: token !== null && (join.isIdle || join.isError),
    retry: false,
  });
  if (token === null) {
    return (
      <Door title={words.door.linkNotOpen}>
        <Notice kind="fault">{words.door.linkBroken}</Notice>
      </Door>
    );
  }
  if (look.data === undefined) {
    return (
      <Door title={look.isError ? words.door.linkNotOpen : words.door.joinWaiting}>
        <NotHereYet reading={look} />
      </Door>
    );
  }
  return (
    <Door title={words.door.joinTitle(look.data.name)} lead={words.door.joinLead(look.data.signInName)}>
      <JoinForm token={token} signInName={look.data.signInName} join={join} />
    </Door>
  );
}

function JoinForm(props: {
  token: string;
  signInName: string;
  join: ReturnType<typeof useChange<'useInvitation'>>;
}): ReactNode {
  const { token, signInName, join } = props;
  const navigate = useNavigate();
  const submit = (entries: FormData): void => {
    join.mutate(
      { body: { token, password: textOf(entries, 'password') } },
      { onSuccess: () => void navigate('/', { replace: true }) },
    );
  };
  return (
    <DoorForm go={words.door.joinGo} isBusy={join.isPending} error={join.error} onSubmit={submit}>
      <input type="text" name="username" autoComplete="username" value={signInName} readOnly hidden />
      <NewPasswordField label={words.door.password} name="password" />
    </DoorForm>
  );
}
