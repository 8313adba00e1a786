import type { ReactNode } from 'react';
import type { ZoneRound } from '@domain/api/rounds.ts';
import type { Settings } from '@domain/settings.ts';
import { useAnswer } from '../../api/use-answer.ts';
import { Button } from '../../components/button.tsx';
import { words } from '../../i18n/words.ts';
import { useUnits } from '../../units/use-units.ts';
import { SETTING_KEYS, shownSetting } from './shown-setting.ts';

const NO_BREAK = '\u00a0';

/**
 * What the last answer advised, for somebody who did not come from it. The dials keep the last settings until this is
 * pressed: nobody finds other numbers on the screen than on the machine without having asked for them.
 */
export function AdvisedSettings(props: {
  last: ZoneRound;
  settings: Settings;
  onTakeOver: (settings: Settings) => void;
}): ReactNode {
  const { last, settings, onTakeOver } = props;
  const units = useUnits();
  const assessmentId = last.latest?.id;
  const answer = useAnswer('readAssessment', assessmentId === undefined ? null : { params: { assessmentId } });
  const advised = answer.data?.result?.advice?.suggestions.at(0)?.settings;
  if (advised === undefined) return null;
  const isSet = SETTING_KEYS.every((key) => advised[key] === settings[key]);
  const said = SETTING_KEYS.map((key) => shownSetting(key, advised[key], units).text.replaceAll(' ', NO_BREAK)).join(
    `${NO_BREAK}· `,
  );
  return (
    <div className="plate stack stack-tight">
      <p>
        {words.round.advised} <strong>{said}</strong>
      </p>
      <div>
        {/* It stays when it is done: steppers below must not move under the thumb. */}
        <Button
          aria-disabled={isSet}
          onClick={() => {
            onTakeOver(advised);
          }}
        >
          {isSet ? words.round.advisedSet : words.round.takeAdvised}
        </Button>
      </div>
    </div>
  );
}
