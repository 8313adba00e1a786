import { useState } from 'react';
import type { ReactNode } from 'react';
import { readNumber } from '@domain/read-number.ts';
import { Button } from '../../components/button.tsx';
import { Stepper } from '../../components/stepper.tsx';
import { words } from '../../i18n/words.ts';

const DIAL = { min: 0, max: 100, step: 5 } as const;
/** Where the share stands before anybody judged it. */
const HALF_PERCENT = 50;

export function OutcomeByEye({
  isBusy,
  onJudged,
}: {
  isBusy: boolean;
  onJudged: (residueFraction: number) => void;
}): ReactNode {
  const [percent, setPercent] = useState(HALF_PERCENT);
  return (
    <>
      <Stepper
        label={words.patch.eyeShare}
        unit="%"
        value={percent}
        shown={String(percent)}
        dial={DIAL}
        read={(text) => readNumber(text) ?? null}
        note={words.patch.eyeHint}
        onChange={setPercent}
      />
      <div className="actions actions-low">
        <Button
          look="primary"
          isWide
          isBusy={isBusy}
          onClick={() => {
            onJudged(percent / 100);
          }}
        >
          {words.patch.keep}
        </Button>
      </div>
    </>
  );
}
