import type { ReactNode } from 'react';
import type { Suggestion } from '@domain/advice.ts';
import type { Settings } from '@domain/settings.ts';
import { words } from '../../i18n/words.ts';
import { formatShare, formatShareInterval } from '../../units/shown-units.ts';
import { useUnits } from '../../units/use-units.ts';
import { SETTING_KEYS, shownSetting } from '../check/shown-setting.ts';

type Outlook = Pick<Suggestion, 'settings' | 'predicted' | 'probabilityMeetsTarget' | 'minutesPerSquareMetre'>;

/** A setting in large figures, with its time, the residue it should leave and its chance; what differs from `last` is marked. */
export function PredictedSetting({ outlook, last }: { outlook: Outlook; last: Settings | null }): ReactNode {
  const units = useUnits();
  const { settings, predicted, probabilityMeetsTarget, minutesPerSquareMetre } = outlook;
  return (
    <>
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
      <dl className="facts">
        <div>
          <dt>{words.answer.work}</dt>
          <dd className="fact-large">{units.rate(minutesPerSquareMetre)}</dd>
        </div>
        <div>
          <dt>{words.answer.expected}</dt>
          <dd>
            {formatShare(predicted.value)} <span className="muted">({formatShareInterval(predicted)})</span>
          </dd>
        </div>
        <div>
          <dt>{words.answer.chance}</dt>
          <dd>{formatShare(probabilityMeetsTarget)}</dd>
        </div>
      </dl>
    </>
  );
}
