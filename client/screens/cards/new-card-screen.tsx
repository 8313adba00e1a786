import { useState } from 'react';
import type { SubmitEvent, ReactNode } from 'react';
import { useNavigate } from 'react-router';
import { newId } from '../../api/new-id.ts';
import { useChange } from '../../api/use-answer.ts';
import { Button } from '../../components/button.tsx';
import { TextArea, TextField } from '../../components/field.tsx';
import { Notice } from '../../components/notice.tsx';
import { Page } from '../../components/page.tsx';
import { words } from '../../i18n/words.ts';
import { textOf } from '../sign-in/door.tsx';

export function NewCardScreen(): ReactNode {
  const [id] = useState(newId);
  const add = useChange('addCard');
  const navigate = useNavigate();
  const submit = (event: SubmitEvent<HTMLFormElement>): void => {
    event.preventDefault();
    if (add.isPending) return;
    const entries = new FormData(event.currentTarget);
    const body = { id, name: textOf(entries, 'name'), note: textOf(entries, 'note') };
    add.mutate({ body }, { onSuccess: () => void navigate(`/cards/${id}`, { replace: true }) });
  };
  return (
    <Page title={words.cards.add} above={{ to: '/cards', word: words.cards.title }}>
      <form className="stack stack-wide" onSubmit={submit}>
        <TextField label={words.cards.name} hint={words.cards.nameHint} name="name" maxLength={120} required />
        <TextArea label={words.cards.note} name="note" maxLength={4000} />
        {add.error === null ? null : <Notice kind="fault">{add.error.message}</Notice>}
        <Button type="submit" look="primary" isWide isBusy={add.isPending}>
          {words.cards.addGo}
        </Button>
      </form>
    </Page>
  );
}
