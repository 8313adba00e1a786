import type { ReactNode } from 'react';
import type { Settings } from '@domain/settings.ts';
import { words } from '../../i18n/words.ts';
import { useUnits } from '../../units/use-units.ts';
import { SETTING_KEYS, shownSetting } from '../check/shown-setting.ts';

/** A setting in large figures; what differs from `last` is marked. */
export function SettingFigures({ settings, last }: { settings: Settings; last: Settings | null }): ReactNode {
  const units = useUnits();
  return (
    <dl className="set">
      {SETTING_KEYS.map((key) => {
        const { number, unit } = shownSetting(key, settings[key], units);
        const isChanged = last !== null && last[key] !== settings[key];
        return (
          <div key={key} className={isChanged ? 'set-one set-changed' : 'set-one'}>
            <dt>{words.settings[key]}</dt>
            <dd>
              <span className="set-number">{number}</span> {unit}
              {isChanged ? <span className="unseen">, {words.answer.changed}</span> : null}
            </dd>
          </div>
        );
      })}
    </dl>
  );
}
