import type { ReactNode } from 'react';
import { Fold } from '../../components/fold.tsx';
import { Notice } from '../../components/notice.tsx';
import { words } from '../../i18n/words.ts';

/** What to mind before the beam is on. */
export function WorkCautions(): ReactNode {
  return (
    <Fold title={words.round.beforeWork}>
      <ul className="stack">
        {words.round.cautions.map((caution) => (
          <li key={caution}>
            <Notice kind="caution">{caution}</Notice>
          </li>
        ))}
      </ul>
    </Fold>
  );
}
