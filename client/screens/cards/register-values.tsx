import { useState } from 'react';
import type { SubmitEvent, ReactNode } from 'react';
import type { ShopCard } from '@domain/api/cards.ts';
import { useChange } from '../../api/use-answer.ts';
import { Button } from '../../components/button.tsx';
import { TextField } from '../../components/field.tsx';
import { Notice } from '../../components/notice.tsx';
import { words } from '../../i18n/words.ts';
import { textOf } from '../sign-in/door.tsx';

/** Takes the measured colours of a card from the text file that a measuring program writes. */
export function RegisterValues({ card: { id, values } }: { card: ShopCard }): ReactNode {
  const register = useChange('registerCardValues');
  const remove = useChange('removeCardValues');
  const [isFileMissing, setFileMissing] = useState(false);
  const submit = (event: SubmitEvent<HTMLFormElement>): void => {
    event.preventDefault();
    const form = event.currentTarget;
    const entries = new FormData(form);
    const file = entries.get('file');
    const isThere = file instanceof File && file.size > 0;
    setFileMissing(!isThere);
    if (!isThere || register.isPending) return;
    void file.text().then((text) => {
      const body = { text, instrument: textOf(entries, 'instrument'), measuredOn: textOf(entries, 'measuredOn') };
      register.mutate(
        { params: { cardId: id }, body },
        {
          onSuccess: () => {
            form.reset();
          },
        },
      );
    });
  };
  return (
    <section className="stack">
      <h2>{words.cards.valuesTitle}</h2>
      <p className="muted">{words.cards.valuesLead}</p>
      <form className="stack" onSubmit={submit}>
        <ValuesFields isFileMissing={isFileMissing} />
        {register.error === null ? null : <Notice kind="fault">{register.error.message}</Notice>}
        <div role="status">{register.isSuccess ? <Notice kind="note">{words.cards.registered}</Notice> : null}</div>
        <div className="row">
          <Button type="submit" isBusy={register.isPending}>
            {words.cards.register}
          </Button>
          {values === null ? null : (
            <Button
              look="plain"
              isBusy={remove.isPending}
              onClick={() => {
                remove.mutate({ params: { cardId: id } });
              }}
            >
              {words.cards.takeAsDrawn}
            </Button>
          )}
        </div>
      </form>
    </section>
  );
}

function ValuesFields({ isFileMissing }: { isFileMissing: boolean }): ReactNode {
  return (
    <>
      <TextField
        label={words.cards.file}
        hint={words.cards.fileHint}
        error={isFileMissing ? words.cards.noFile : undefined}
        type="file"
        name="file"
        accept=".txt,.cgats,.it8,.ti3,text/plain"
      />
      <div className="grid-two">
        <TextField label={words.cards.instrumentLabel} name="instrument" maxLength={120} autoComplete="off" />
        <TextField label={words.cards.dayLabel} name="measuredOn" type="date" defaultValue={today()} required />
      </div>
    </>
  );
}

/** The day where the person is, as date fields write it. */
function today(): string {
  const now = new Date();
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((part) => String(part).padStart(2, '0')).join('-');
}
