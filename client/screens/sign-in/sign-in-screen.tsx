import type { ReactNode } from 'react';
import { useChange } from '../../api/use-answer.ts';
import { TextField } from '../../components/field.tsx';
import { words } from '../../i18n/words.ts';
import { Door, DoorForm, textOf } from './door.tsx';

export function SignInScreen({ needsSetup }: { needsSetup: boolean }): ReactNode {
  const signIn = useChange('signIn');
  if (needsSetup) {
    return (
      <Door title={words.door.needsSetup} lead={words.door.needsSetupHint}>
        {null}
      </Door>
    );
  }
  return (
    <Door title={words.door.signIn}>
      <DoorForm
        go={words.door.signIn}
        isBusy={signIn.isPending}
        error={signIn.error}
        onSubmit={(entries) => {
          signIn.mutate({ body: { signInName: textOf(entries, 'signInName'), password: textOf(entries, 'password') } });
        }}
      >
        <TextField
          label={words.door.signInName}
          name="signInName"
          autoComplete="username"
          autoCapitalize="none"
          required
        />
        <TextField
          label={words.door.password}
          name="password"
          type="password"
          autoComplete="current-password"
          hint={words.door.forgotten}
          required
        />
      </DoorForm>
    </Door>
  );
}
