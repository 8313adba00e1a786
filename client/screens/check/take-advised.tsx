import type { ReactNode } from 'react';
import type { Settings } from '@domain/settings.ts';
import { Button } from '../../components/button.tsx';
import { words } from '../../i18n/words.ts';
import { useUnits } from '../../units/use-units.ts';
import { SETTING_KEYS, shownSetting } from './shown-setting.ts';

const NO_BREAK = '\u00a0';

/**
 * An advised setting beside the dials. They keep their values until this is pressed: nobody finds other numbers on the
 * screen than on the machine without having asked for them.
 */
export function TakeAdvised(props: {
  word: string;
  advised: Settings;
  settings: Settings;
  onTakeOver: (settings: Settings) => void;
  children?: ReactNode;
}): ReactNode {
  const { word, advised, settings, onTakeOver, children } = props;
  const units = useUnits();
  const isSet = SETTING_KEYS.every((key) => advised[key] === settings[key]);
  const said = SETTING_KEYS.map((key) => shownSetting(key, advised[key], units).text.replaceAll(' ', NO_BREAK)).join(
    `${NO_BREAK}· `,
  );
  return (
    <div className="plate stack stack-tight">
      <p>
        {word} <strong>{said}</strong>
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
      {children}
    </div>
  );
}
