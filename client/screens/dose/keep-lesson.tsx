import { useState } from 'react';
import type { ReactNode, SubmitEvent } from 'react';
import type { Settings } from '@domain/settings.ts';
import { newId } from '../../api/new-id.ts';
import { useChange } from '../../api/use-answer.ts';
import { Button } from '../../components/button.tsx';
import { TextArea, TextField } from '../../components/field.tsx';
import { Fold } from '../../components/fold.tsx';
import { Notice } from '../../components/notice.tsx';
import { words } from '../../i18n/words.ts';
import { textOf } from '../sign-in/door.tsx';

/** Keeps the dials as they stand, with a title and words, for others to learn from. */
export function KeepLesson({ settings, machineId }: { settings: Settings; machineId: string }): ReactNode {
  const [id, setId] = useState(newId);
  const add = useChange('addLesson');
  const submit = (event: SubmitEvent<HTMLFormElement>): void => {
    event.preventDefault();
    const form = event.currentTarget;
    const entries = new FormData(form);
    if (add.isPending) return;
    add.mutate(
      { body: { id, title: textOf(entries, 'title'), note: textOf(entries, 'note'), settings, machineId } },
      {
        onSuccess: () => {
          form.reset();
          setId(newId());
        },
      },
    );
  };
  return (
    <div>
      <Fold title={words.dose.lesson}>
        <form className="stack" onSubmit={submit}>
          <TextField label={words.dose.lessonTitle} name="title" maxLength={120} required />
          <TextArea label={words.dose.lessonNote} name="note" maxLength={4000} />
          {add.error === null ? null : <Notice kind="fault">{add.error.message}</Notice>}
          <div role="status">{add.isSuccess ? <Notice kind="note">{words.dose.lessonKept}</Notice> : null}</div>
          <Button type="submit" isBusy={add.isPending}>
            {words.dose.lessonGo}
          </Button>
        </form>
      </Fold>
    </div>
  );
}
