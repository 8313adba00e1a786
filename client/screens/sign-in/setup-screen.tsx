import type { ReactNode } from 'react';
import { useNavigate } from 'react-router';
import { LEAST_PASSWORD_CHARACTERS } from '@domain/api/people.ts';
import { useChange } from '../../api/use-answer.ts';
import { TextField } from '../../components/field.tsx';
import { Notice } from '../../components/notice.tsx';
import { words } from '../../i18n/words.ts';
import { Door, DoorForm, textOf } from './door.tsx';
import { useLinkToken } from './link-token.ts';

export function SetupScreen(): ReactNode {
  const token = useLinkToken();
  return (
    <Door title={words.door.setupTitle} lead={words.door.setupLead}>
      {token === null ? <Notice kind="fault">{words.door.linkBroken}</Notice> : <SetupForm token={token} />}
    </Door>
  );
}

function SetupForm({ token }: { token: string }): ReactNode {
  const setUp = useChange('setUp');
  const navigate = useNavigate();
  const submit = (entries: FormData): void => {
    const body = {
      token,
      name: textOf(entries, 'name'),
      signInName: textOf(entries, 'signInName'),
      password: textOf(entries, 'password'),
    };
    setUp.mutate({ body }, { onSuccess: () => void navigate('/', { replace: true }) });
  };
  return (
    <DoorForm go={words.door.setupGo} isBusy={setUp.isPending} error={setUp.error} onSubmit={submit}>
      <TextField label={words.door.name} name="name" hint={words.door.nameHint} autoComplete="name" required />
      <TextField
        label={words.door.signInName}
        name="signInName"
        hint={words.door.signInNameHint}
        autoComplete="username"
        autoCapitalize="none"
        required
      />
      <NewPasswordField label={words.door.password} name="password" />
    </DoorForm>
  );
}

export function NewPasswordField({ label, name }: { label: string; name: string }): ReactNode {
  return (
    <TextField
      label={label}
      name={name}
      type="password"
      autoComplete="new-password"
      minLength={LEAST_PASSWORD_CHARACTERS}
      hint={words.door.passwordHint(LEAST_PASSWORD_CHARACTERS)}
      required
    />
  );
}
