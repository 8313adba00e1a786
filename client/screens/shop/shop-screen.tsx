import { useState } from 'react';
import type { SubmitEvent, ReactNode } from 'react';
import { STANDARD_GRADES } from '@domain/grade.ts';
import type { Shop } from '@domain/api/shop.ts';
import { useAnswer, useChange } from '../../api/use-answer.ts';
import { Button } from '../../components/button.tsx';
import { SelectField, TextField } from '../../components/field.tsx';
import { Notice } from '../../components/notice.tsx';
import { Page } from '../../components/page.tsx';
import { NotHereYet } from '../../components/waiting.tsx';
import { words } from '../../i18n/words.ts';
import '../../styles/shop.css';
import { readNumber } from '@domain/read-number.ts';
import { textOf } from '../sign-in/door.tsx';
import { RecordRules } from './record-rules.tsx';
import { PhoneAddresses } from './phone-addresses.tsx';

/** What holds for everybody in the shop, and how phones find the program. */
export function ShopScreen(): ReactNode {
  const shop = useAnswer('readShop', {});
  const machines = useAnswer('listMachines', { query: { limit: 100 } });
  const cards = useAnswer('listCards', { query: { limit: 100 } });
  const missing = [shop, machines, cards].find(({ data }) => data === undefined);
  return (
    <Page title={words.shop.title} lead={words.shop.lead}>
      {shop.data === undefined || machines.data === undefined || cards.data === undefined ? (
        <NotHereYet reading={missing ?? shop} />
      ) : (
        <ShopForm shop={shop.data} machines={machines.data.items} cards={cards.data.items} />
      )}
      {shop.data === undefined ? null : <RecordRules shop={shop.data} />}
      <PhoneAddresses />
    </Page>
  );
}

interface Named {
  readonly id: string;
  readonly name: string;
}

const orNull = (text: string): string | null => (text === '' ? null : text);
const choicesOf = (things: readonly Named[]): { value: string; word: string }[] => [
  { value: '', word: words.shop.none },
  ...things.map(({ id, name }) => ({ value: id, word: name })),
];

function ShopForm({
  shop,
  machines,
  cards,
}: {
  shop: Shop;
  machines: readonly Named[];
  cards: readonly Named[];
}): ReactNode {
  const change = useChange('changeShop');
  const [isRateWrong, setRateWrong] = useState(false);
  const submit = (event: SubmitEvent<HTMLFormElement>): void => {
    event.preventDefault();
    const entries = new FormData(event.currentTarget);
    const rate = readNumber(textOf(entries, 'hourlyRate'));
    const isWrong = rate === undefined || (rate !== null && rate <= 0);
    setRateWrong(isWrong);
    if (isWrong || change.isPending) return;
    const body = {
      name: textOf(entries, 'name'),
      units: textOf(entries, 'units') === 'inches' ? 'inches' : 'millimetres',
      paper: textOf(entries, 'paper') === 'letter' ? 'letter' : 'a4',
      usualTargetGrade: orNull(textOf(entries, 'usualTargetGrade')),
      usualMachineId: orNull(textOf(entries, 'usualMachineId')),
      usualCardId: orNull(textOf(entries, 'usualCardId')),
      hourlyRate: rate,
      currency: textOf(entries, 'currency').toUpperCase(),
    } as const;
    change.mutate({ body });
  };
  return (
    <form className="stack stack-wide" onSubmit={submit}>
      <ShopFields shop={shop} machines={machines} cards={cards} isRateWrong={isRateWrong} />
      {change.error === null ? null : <Notice kind="fault">{change.error.message}</Notice>}
      <div role="status">{change.isSuccess ? <Notice kind="note">{words.shop.kept}</Notice> : null}</div>
      <Button type="submit" look="primary" isWide isBusy={change.isPending}>
        {words.shop.keep}
      </Button>
    </form>
  );
}

interface FieldsProps {
  readonly shop: Shop;
  readonly machines: readonly Named[];
  readonly cards: readonly Named[];
  readonly isRateWrong: boolean;
}

function ShopFields(props: FieldsProps): ReactNode {
  const { shop, isRateWrong } = props;
  const units = [
    { value: 'millimetres', word: words.me.unitsWord.millimetres },
    { value: 'inches', word: words.me.unitsWord.inches },
  ];
  const papers = [
    { value: 'a4', word: words.shop.papers.a4 },
    { value: 'letter', word: words.shop.papers.letter },
  ];
  return (
    <>
      <TextField
        label={words.shop.name}
        hint={words.shop.nameHint}
        name="name"
        maxLength={120}
        defaultValue={shop.name}
      />
      <div className="grid-two">
        <SelectField label={words.me.units} name="units" choices={units} defaultValue={shop.units} />
        <SelectField label={words.shop.paper} name="paper" choices={papers} defaultValue={shop.paper} />
      </div>
      <UsualFields {...props} />
      <div className="grid-two">
        <TextField
          label={words.shop.rate}
          name="hourlyRate"
          inputMode="decimal"
          defaultValue={shop.hourlyRate ?? ''}
          error={isRateWrong ? words.shop.wrongRate : undefined}
        />
        <TextField
          label={words.shop.currency}
          hint={words.shop.currencyHint}
          name="currency"
          defaultValue={shop.currency}
          maxLength={3}
          pattern="[A-Za-z]{3}"
          required
        />
      </div>
    </>
  );
}

function UsualFields({ shop, machines, cards }: FieldsProps): ReactNode {
  const grades = STANDARD_GRADES.map(({ standard, grade }) => ({ value: grade, word: `${grade} (${standard})` }));
  return (
    <>
      <SelectField
        label={words.shop.usualGrade}
        name="usualTargetGrade"
        choices={[{ value: '', word: words.shop.none }, ...grades]}
        defaultValue={shop.usualTargetGrade ?? ''}
      />
      <div className="grid-two">
        <SelectField
          label={words.shop.usualMachine}
          name="usualMachineId"
          choices={choicesOf(machines)}
          defaultValue={shop.usualMachineId ?? ''}
        />
        <SelectField
          label={words.shop.usualCard}
          name="usualCardId"
          choices={choicesOf(cards)}
          defaultValue={shop.usualCardId ?? ''}
        />
      </div>
    </>
  );
}
