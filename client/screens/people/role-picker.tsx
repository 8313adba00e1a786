import type { ReactNode } from 'react';
import { ROLES } from '@domain/api/roles.ts';
import type { Role } from '@domain/api/roles.ts';
import { PickOne } from '../../components/pick-one.tsx';
import { words } from '../../i18n/words.ts';

/** One role a person, with what it is for. */
export function RolePicker({ role, onPick }: { role: Role; onPick: (role: Role) => void }): ReactNode {
  return (
    <div className="stack stack-tight">
      <PickOne
        label={words.people.roleLabel}
        options={ROLES.map((value) => ({ value, word: words.me.role[value] }))}
        value={role}
        onPick={onPick}
      />
      <p className="field-hint" role="status">
        {words.me.role[role]}: {words.people.roleHints[role]}
      </p>
    </div>
  );
}
