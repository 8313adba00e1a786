import type { ReactNode } from 'react';
import type { Suggestion } from '@domain/advice.ts';
import { words } from '../../i18n/words.ts';
import { sentenceInUnits } from '../../units/sentence-in-units.ts';
import { useUnits } from '../../units/use-units.ts';

/** Why a setting is advised, and what would make another one better. */
export function WhyThis({ suggestion: { why, changesMind } }: { suggestion: Suggestion }): ReactNode {
  const units = useUnits();
  return (
    <div className="stack">
      <p>{sentenceInUnits(why, units)}</p>
      {changesMind === undefined ? null : (
        <>
          <h3>{words.advice.changesMind}</h3>
          <p>{sentenceInUnits(changesMind, units)}</p>
        </>
      )}
    </div>
  );
}
