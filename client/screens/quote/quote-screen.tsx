import { useState } from 'react';
import type { ReactNode, SubmitEvent } from 'react';
import type { ShopMachine } from '@domain/api/machines.ts';
import type { Shop } from '@domain/api/shop.ts';
import { useAnswer, useChange } from '../../api/use-answer.ts';
import { Button } from '../../components/button.tsx';
import { EmptyState } from '../../components/empty-state.tsx';
import { SelectField, TextField } from '../../components/field.tsx';
import { Notice } from '../../components/notice.tsx';
import { Page } from '../../components/page.tsx';
import { NotHereYet } from '../../components/waiting.tsx';
import { words } from '../../i18n/words.ts';
import '../../styles/planning.css';
import { formatNumber } from '../../units/shown-units.ts';
import { useUnits } from '../../units/use-units.ts';
import { textOf } from '../sign-in/door.tsx';
import { KIND_CHOICES } from '../trials/kind-choices.ts';
import { QuoteAnswer } from './quote-answer.tsx';
import { readQuoteForm } from './quote-form.ts';
import type { QuoteFormField } from './quote-form.ts';

export function QuoteScreen(): ReactNode {
  const machines = useAnswer('listMachines', { query: { limit: 100 } });
  const shop = useAnswer('readShop', {});
  if (machines.data === undefined || shop.data === undefined) return <NotHereYet reading={machines} />;
  return (
    <Page title={words.quote.title} lead={words.quote.lead}>
      {machines.data.items.length === 0 ? (
        <EmptyState title={words.dose.noMachine}>
          <p>{words.dose.noMachineHint}</p>
        </EmptyState>
      ) : (
        <QuoteForm machines={machines.data.items} shop={shop.data} />
      )}
    </Page>
  );
}

const USUAL = { area: 10, rate: 80, residuePercent: 5, setUpHours: 0 } as const;

function QuoteForm({ machines, shop }: { machines: readonly ShopMachine[]; shop: Shop }): ReactNode {
  const units = useUnits();
  const make = useChange('makeQuote');
  const [wrong, setWrong] = useState<ReadonlySet<QuoteFormField>>(new Set());
  const submit = (event: SubmitEvent<HTMLFormElement>): void => {
    event.preventDefault();
    const entries = new FormData(event.currentTarget);
    const reading = readQuoteForm((field) => textOf(entries, field), units);
    setWrong(reading.wrong);
    const machine = machines.find(({ id }) => id === textOf(entries, 'machineId')) ?? machines[0];
    if (reading.form === null || make.isPending) return;
    const surface = textOf(entries, 'surface');
    make.mutate({
      body: {
        ...reading.form,
        machine: machine.machine,
        machineId: machine.id,
        currency: shop.currency,
        ...(surface === 'unknown' ? {} : { surface }),
      },
    });
  };
  const asked = askedWords(make.variables?.body, machines);
  return (
    <>
      <form className="stack stack-wide quote-form" onSubmit={submit}>
        <QuoteFields machines={machines} shop={shop} wrong={wrong} />
        {make.error === null ? null : <Notice kind="fault">{make.error.message}</Notice>}
        <Button type="submit" look="primary" isWide isBusy={make.isPending}>
          {words.quote.go}
        </Button>
      </form>
      <div role="status">{make.data === undefined ? null : <QuoteAnswer quote={make.data} asked={asked} />}</div>
    </>
  );
}

interface Asked {
  readonly machineId?: string | undefined;
  readonly hourlyRate: number;
  readonly currency?: string | undefined;
  readonly setUpHours?: number | undefined;
}

/** What the quote was asked for, so that the printed page says it too. */
function askedWords(body: Asked | undefined, machines: readonly ShopMachine[]): string {
  if (body === undefined) return '';
  const name = machines.find(({ id }) => id === body.machineId)?.name ?? '';
  const rate = `${formatNumber(body.hourlyRate, 2)} ${body.currency ?? ''}`.trim();
  return words.quote.asked(name, rate, formatNumber(body.setUpHours ?? 0, 1));
}

function QuoteFields({
  machines,
  shop,
  wrong,
}: {
  machines: readonly ShopMachine[];
  shop: Shop;
  wrong: ReadonlySet<QuoteFormField>;
}): ReactNode {
  const units = useUnits();
  const error = (field: QuoteFormField): string | undefined =>
    !wrong.has(field)
      ? undefined
      : field === 'residue' || field === 'beamShare'
        ? words.planned.wrongShare
        : words.planned.wrongNumber;
  const numbers: readonly { field: QuoteFormField; label: string; value: number | ''; hint?: string }[] = [
    { field: 'area', label: `${words.quote.area} (${units.areaUnit})`, value: USUAL.area },
    { field: 'residue', label: words.planned.target, value: USUAL.residuePercent },
    { field: 'rate', label: `${words.quote.rate} (${shop.currency})`, value: shop.hourlyRate ?? USUAL.rate },
    { field: 'setUp', label: words.quote.setUp, value: USUAL.setUpHours },
    { field: 'beamShare', label: words.quote.beamShare, value: '', hint: words.quote.beamShareHint },
  ];
  return (
    <div className="grid-two">
      <SelectField
        label={words.round.machine}
        name="machineId"
        choices={machines.map(({ id, name }) => ({ value: id, word: name }))}
        defaultValue={shop.usualMachineId ?? machines[0].id}
      />
      <SelectField label={words.planned.surface} name="surface" choices={KIND_CHOICES} defaultValue="light rust" />
      {numbers.map(({ field, label, value, hint }) => (
        <TextField
          key={field}
          label={label}
          name={field}
          inputMode="decimal"
          defaultValue={value}
          hint={hint}
          error={error(field)}
        />
      ))}
    </div>
  );
}
