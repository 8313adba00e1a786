import { useState } from 'react';
import type { SubmitEvent, ReactNode } from 'react';
import type { Shop } from '@domain/api/shop.ts';
import { useChange } from '../../api/use-answer.ts';
import { Button } from '../../components/button.tsx';
import { TextField } from '../../components/field.tsx';
import { Notice } from '../../components/notice.tsx';
import { Switch } from '../../components/switch.tsx';
import { words } from '../../i18n/words.ts';
import { readNumber } from '@domain/read-number.ts';
import { textOf } from '../sign-in/door.tsx';

const MOST_MONTHS = 1200;

/** Who may sign, and how long unsigned work is kept. */
export function RecordRules({ shop }: { shop: Shop }): ReactNode {
  const change = useChange('changeShop');
  const keep = useChange('changeShop');
  const [isWrong, setWrong] = useState(false);
  // What was just turned shows at once, before the server has said yes.
  const [turned, setTurned] = useState<boolean | null>(null);
  const isOn = turned ?? shop.isTwoPersonRuleOn;
  const turn = (): void => {
    setTurned(!isOn);
    const settle = (): void => {
      setTurned(null);
    };
    change.mutate({ body: { isTwoPersonRuleOn: !isOn } }, { onSettled: settle });
  };
  const submit = (event: SubmitEvent<HTMLFormElement>): void => {
    event.preventDefault();
    const months = readNumber(textOf(new FormData(event.currentTarget), 'keepUnsignedMonths'));
    const isBad =
      months === undefined || (months !== null && !(Number.isInteger(months) && months >= 1 && months <= MOST_MONTHS));
    setWrong(isBad);
    if (!isBad) keep.mutate({ body: { keepUnsignedMonths: months } });
  };
  return (
    <section className="stack record-rules">
      <h2>{words.rules.title}</h2>
      <Switch isOn={isOn} onTurn={turn}>
        {words.rules.twoPersons}
      </Switch>
      {change.error === null ? null : <Notice kind="fault">{change.error.message}</Notice>}
      <form className="stack" onSubmit={submit}>
        <TextField
          label={words.rules.months}
          hint={words.rules.monthsHint}
          name="keepUnsignedMonths"
          inputMode="numeric"
          suffix={words.rules.monthsUnit}
          defaultValue={shop.keepUnsignedMonths ?? ''}
          error={isWrong ? words.rules.wrong : undefined}
        />
        {keep.error === null ? null : <Notice kind="fault">{keep.error.message}</Notice>}
        <div role="status">{keep.isSuccess ? <Notice kind="note">{words.rules.kept}</Notice> : null}</div>
        <div>
          <Button type="submit" isBusy={keep.isPending}>
            {words.rules.keep}
          </Button>
        </div>
      </form>
    </section>
  );
}
