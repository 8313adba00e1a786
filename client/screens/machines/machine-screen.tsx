import { useState } from 'react';
import type { SubmitEvent, ReactNode } from 'react';
import { useNavigate, useParams } from 'react-router';
import type { ShopMachine } from '@domain/api/machines.ts';
import type { Machine } from '@domain/machine.ts';
import { newId } from '../../api/new-id.ts';
import { useAnswer, useChange } from '../../api/use-answer.ts';
import { Button } from '../../components/button.tsx';
import { TextArea, TextField } from '../../components/field.tsx';
import { Notice } from '../../components/notice.tsx';
import { Page } from '../../components/page.tsx';
import { RemoveKey } from '../../components/remove-key.tsx';
import { NotHereYet } from '../../components/waiting.tsx';
import { words } from '../../i18n/words.ts';
import { useMayCall } from '../../session/who.ts';
import '../../styles/shop.css';
import type { ShownUnits } from '../../units/shown-units.ts';
import { useUnits } from '../../units/use-units.ts';
import { textOf } from '../sign-in/door.tsx';
import { MachineFields } from './machine-fields.tsx';
import { fieldsOf, machineTexts, readMachineForm } from './machine-form.ts';
import type { MachineDescription, MachineReading } from './machine-form.ts';
import { USUAL_MACHINE } from './usual-machine.ts';

const ABOVE = { to: '/machines', word: words.machines.title };

export function MachineScreen(): ReactNode {
  const { machineId = '' } = useParams();
  const machine = useAnswer('readMachine', { params: { machineId } });
  const change = useChange('changeMachine');
  const mayChange = useMayCall('changeMachine');
  if (machine.data === undefined) return <NotHereYet reading={machine} />;
  const { name, note } = machine.data;
  return (
    <Page title={name} above={ABOVE} lead={mayChange ? undefined : note}>
      <MachineForm
        first={machine.data}
        go={mayChange ? words.machines.keep : null}
        saving={change}
        onKeep={(body) => {
          change.mutate({ params: { machineId }, body });
        }}
      />
      <div role="status">{change.isSuccess ? <Notice kind="note">{words.machines.kept}</Notice> : null}</div>
      <MachineKeys machine={machine.data} />
    </Page>
  );
}

export function NewMachineScreen(): ReactNode {
  const [id] = useState(newId);
  const add = useChange('addMachine');
  const navigate = useNavigate();
  return (
    <Page title={words.machines.add} above={ABOVE} lead={words.machines.noneHint}>
      <MachineForm
        first={{ ...USUAL_MACHINE, name: '', serialNumber: '', note: '' }}
        go={words.machines.addGo}
        saving={add}
        onKeep={(body) => {
          add.mutate({ body: { id, ...body } }, { onSuccess: () => void navigate('/machines', { replace: true }) });
        }}
      />
    </Page>
  );
}

type NamedMachine = MachineDescription & Pick<ShopMachine, 'name' | 'serialNumber' | 'note'>;

/** @param props.go word of the key that keeps the form; null shows it only */
function MachineForm(props: {
  first: NamedMachine;
  go: string | null;
  saving: { readonly isPending: boolean; readonly error: Error | null };
  onKeep: (machine: NamedMachine) => void;
}): ReactNode {
  const units = useUnits();
  // Another unit means other texts: the form begins anew.
  return <FormInUnits key={units.system} units={units} {...props} />;
}

function FormInUnits({
  first,
  go,
  saving,
  onKeep,
  units,
}: Parameters<typeof MachineForm>[0] & { units: ShownUnits }): ReactNode {
  const [strokes, setStrokes] = useState<Machine['strokesPerCycle']>(first.machine.strokesPerCycle);
  const [wrong, setWrong] = useState<MachineReading['wrong']>(null);
  const submit = (event: SubmitEvent<HTMLFormElement>): void => {
    event.preventDefault();
    const entries = new FormData(event.currentTarget);
    const typed = new Map(fieldsOf(first).map((field) => [field, textOf(entries, field)]));
    const reading = readMachineForm(typed, strokes, first, units);
    setWrong(reading.wrong);
    if (reading.wrong !== null || saving.isPending) return;
    const text = (name: 'name' | 'serialNumber' | 'note'): string => textOf(entries, name);
    onKeep({ name: text('name'), serialNumber: text('serialNumber'), note: text('note'), ...reading.description });
  };
  return (
    <form className="stack stack-wide" onSubmit={submit} noValidate={wrong !== null}>
      <fieldset className="stack stack-wide" disabled={go === null}>
        <TextField
          label={words.machines.name}
          hint={words.machines.nameHint}
          name="name"
          maxLength={120}
          defaultValue={first.name}
          required
        />
        <TextField
          label={words.machines.serialNumber}
          hint={words.machines.serialNumberHint}
          name="serialNumber"
          maxLength={80}
          autoComplete="off"
          defaultValue={first.serialNumber}
        />
        <MachineFields
          texts={machineTexts(first, units)}
          units={units}
          wrong={wrong}
          strokes={strokes}
          onStrokes={setStrokes}
        />
        <TextArea label={words.machines.note} name="note" maxLength={4000} defaultValue={first.note} />
      </fieldset>
      {wrong === null ? null : <Notice kind="fault">{words.machines.wrongSomewhere}</Notice>}
      {saving.error === null ? null : <Notice kind="fault">{saving.error.message}</Notice>}
      {go === null ? null : (
        <Button type="submit" look="primary" isWide isBusy={saving.isPending}>
          {go}
        </Button>
      )}
    </form>
  );
}

function MachineKeys({ machine: { id, name, isPutAway } }: { machine: ShopMachine }): ReactNode {
  const change = useChange('changeMachine');
  const remove = useChange('removeMachine');
  const navigate = useNavigate();
  const [mayChange, mayRemove] = [useMayCall('changeMachine'), useMayCall('removeMachine')];
  if (!mayChange) return null;
  return (
    <div className="actions">
      <Button
        isBusy={change.isPending}
        onClick={() => {
          change.mutate({ params: { machineId: id }, body: { isPutAway: !isPutAway } });
        }}
      >
        {isPutAway ? words.machines.takeOut : words.machines.putAwayGo}
      </Button>
      {mayRemove ? (
        <RemoveKey
          word={words.machines.remove}
          title={words.machines.removeTitle(name)}
          hint={words.machines.removeHint}
          go={words.machines.removeGo}
          removal={remove}
          onRemove={() => {
            remove.mutate({ params: { machineId: id } }, { onSuccess: () => void navigate('/machines') });
          }}
        />
      ) : null}
    </div>
  );
}
