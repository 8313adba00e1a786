import { useState } from 'react';
import type { ReactNode, SubmitEvent } from 'react';
import { useNavigate } from 'react-router';
import { newId } from '../../api/new-id.ts';
import { useAnswer, useChange } from '../../api/use-answer.ts';
import { Button } from '../../components/button.tsx';
import { EmptyState } from '../../components/empty-state.tsx';
import { SelectField, TextField } from '../../components/field.tsx';
import type { Choice } from '../../components/field.tsx';
import { Notice } from '../../components/notice.tsx';
import { Page } from '../../components/page.tsx';
import { NotHereYet } from '../../components/waiting.tsx';
import { words } from '../../i18n/words.ts';
import type { ShownUnits } from '../../units/shown-units.ts';
import { useUnits } from '../../units/use-units.ts';
import { textOf } from '../sign-in/door.tsx';
import { KIND_CHOICES } from './kind-choices.ts';
import { readTrialForm } from './trial-form.ts';
import type { TrialFormField } from './trial-form.ts';

const ABOVE = { to: '/trials', word: words.trials.title };
const USUAL = { widthMm: 300, heightMm: 200, patches: 8, residuePercent: 5 } as const;

export function NewTrialScreen(): ReactNode {
  const machines = useAnswer('listMachines', { query: { limit: 100 } });
  const shop = useAnswer('readShop', {});
  if (machines.data === undefined || shop.data === undefined) return <NotHereYet reading={machines} />;
  return (
    <Page title={words.trials.add} above={ABOVE} lead={words.trials.lead}>
      {machines.data.items.length === 0 ? (
        <EmptyState title={words.dose.noMachine}>
          <p>{words.dose.noMachineHint}</p>
        </EmptyState>
      ) : (
        <TrialForm
          machines={machines.data.items.map(({ id, name }) => ({ value: id, word: name }))}
          usualMachineId={shop.data.usualMachineId ?? machines.data.items[0].id}
        />
      )}
    </Page>
  );
}

function TrialForm({ machines, usualMachineId }: { machines: readonly Choice[]; usualMachineId: string }): ReactNode {
  const [id] = useState(newId);
  const [wrong, setWrong] = useState<ReadonlySet<TrialFormField>>(new Set());
  const units = useUnits();
  const add = useChange('addTrial');
  const navigate = useNavigate();
  const submit = (event: SubmitEvent<HTMLFormElement>): void => {
    event.preventDefault();
    const entries = new FormData(event.currentTarget);
    const reading = readTrialForm((field) => textOf(entries, field), units);
    setWrong(reading.wrong);
    if (reading.form === null || add.isPending) return;
    const named = { name: textOf(entries, 'name'), machineId: textOf(entries, 'machineId') };
    const surface = textOf(entries, 'surface');
    add.mutate(
      { body: { id, ...named, ...reading.form, surface: surface === 'unknown' ? '' : surface } },
      { onSuccess: (trial) => void navigate(`/trials/${trial.id}`, { replace: true }) },
    );
  };
  return (
    <form className="stack stack-wide" onSubmit={submit}>
      <TextField label={words.trials.name} hint={words.trials.nameHint} name="name" maxLength={120} required />
      <TrialFields machines={machines} usualMachineId={usualMachineId} wrong={wrong} units={units} />
      {add.error === null ? null : <Notice kind="fault">{add.error.message}</Notice>}
      <Button type="submit" look="primary" isWide isBusy={add.isPending}>
        {words.trials.addGo}
      </Button>
    </form>
  );
}

interface FieldsProps {
  readonly machines: readonly Choice[];
  readonly usualMachineId: string;
  readonly wrong: ReadonlySet<TrialFormField>;
  readonly units: ShownUnits;
}

function TrialFields({ machines, usualMachineId, wrong, units }: FieldsProps): ReactNode {
  const number = (field: TrialFormField): string | undefined => (wrong.has(field) ? errorOf(field) : undefined);
  const length = (label: string): string => `${label} (${units.lengthUnit})`;
  const shown = (mm: number): string => String(Math.round(units.lengthOf(mm) * 100) / 100);
  return (
    <div className="grid-two">
      <SelectField label={words.round.machine} name="machineId" choices={machines} defaultValue={usualMachineId} />
      <SelectField label={words.planned.surface} name="surface" choices={KIND_CHOICES} defaultValue="unknown" />
      <TextField
        label={length(words.trials.couponWidth)}
        name="couponWidth"
        inputMode="decimal"
        defaultValue={shown(USUAL.widthMm)}
        error={number('couponWidth')}
      />
      <TextField
        label={length(words.trials.couponHeight)}
        name="couponHeight"
        inputMode="decimal"
        defaultValue={shown(USUAL.heightMm)}
        error={number('couponHeight')}
      />
      <TextField
        label={length(words.planned.thickness)}
        hint={words.planned.optional}
        name="thickness"
        inputMode="decimal"
        error={number('thickness')}
      />
      <TextField
        label={words.trials.patches}
        hint={words.trials.patchesHint}
        name="patches"
        inputMode="numeric"
        defaultValue={USUAL.patches}
        error={number('patches')}
      />
      <TextField
        label={words.planned.target}
        name="residue"
        inputMode="decimal"
        defaultValue={USUAL.residuePercent}
        error={number('residue')}
      />
    </div>
  );
}

function errorOf(field: TrialFormField): string {
  if (field === 'residue') return words.planned.wrongShare;
  return field === 'patches' ? words.planned.wrongCount : words.planned.wrongNumber;
}
