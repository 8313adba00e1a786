import type { ReactNode } from 'react';
import type { ShopMachine } from '@domain/api/machines.ts';
import { SelectField } from '../../components/field.tsx';
import { words } from '../../i18n/words.ts';

export function MachinePicker({
  machines,
  machine,
  onPick,
}: {
  machines: readonly ShopMachine[];
  machine: ShopMachine;
  onPick: (id: string) => void;
}): ReactNode {
  if (machines.length === 1) {
    return (
      <p>
        <span className="muted">{words.round.machine}</span> <strong>{machine.name}</strong>
      </p>
    );
  }
  return (
    <SelectField
      label={words.round.machine}
      value={machine.id}
      choices={machines.map(({ id, name }) => ({ value: id, word: name }))}
      onChange={(event) => {
        onPick(event.target.value);
      }}
    />
  );
}
