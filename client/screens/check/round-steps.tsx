import type { ReactNode } from 'react';
import { words } from '../../i18n/words.ts';

/** Where one is on the way to the answer. */
export function RoundSteps({ at }: { at: 0 | 1 | 2 | 3 }): ReactNode {
  return (
    <ol className="steps" aria-label={words.round.stepsLabel}>
      {words.round.steps.map((word, index) => (
        <li key={word} className={index < at ? 'step-past' : ''} aria-current={index === at ? 'step' : undefined}>
          {word}
        </li>
      ))}
    </ol>
  );
}
