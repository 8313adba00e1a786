import type { ReactNode } from 'react';
import type { Suggestion } from '@domain/advice.ts';
import type { Settings } from '@domain/settings.ts';
import { words } from '../../i18n/words.ts';
import { formatShare, formatShareInterval } from '../../units/shown-units.ts';
import { useUnits } from '../../units/use-units.ts';
import { SettingFigures } from './setting-figures.tsx';

type Outlook = Pick<Suggestion, 'settings' | 'predicted' | 'probabilityMeetsTarget' | 'minutesPerSquareMetre'>;

/** A setting in large figures, with its time, the residue it should leave and its chance; what differs from `last` is marked. */
export function PredictedSetting({ outlook, last }: { outlook: Outlook; last: Settings | null }): ReactNode {
  const units = useUnits();
  const { settings, predicted, probabilityMeetsTarget, minutesPerSquareMetre } = outlook;
  return (
    <>
      <SettingFigures settings={settings} last={last} />
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
