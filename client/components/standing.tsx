import type { ReactNode } from 'react';
import type { ZoneStanding } from '@domain/api/zones.ts';
import { words } from '../i18n/words.ts';
import { StandingMark } from './standing-mark.tsx';
import type { Mark } from './standing-mark.tsx';

const MARKS: Readonly<Record<ZoneStanding, Mark>> = {
  'not started': 'none',
  'in work': 'work',
  'meets target': 'done',
  'another round': 'round',
  'change method': 'other',
  'cannot tell': 'doubt',
};

export function Standing({ standing }: { standing: ZoneStanding }): ReactNode {
  return (
    <span className="standing">
      <StandingMark mark={MARKS[standing]} />
      {words.standing[standing]}
    </span>
  );
}
