import type { ReactNode } from 'react';
import type { DewPointMargin } from '@domain/dew-point-margin.ts';
import { Notice } from '../../components/notice.tsx';
import { words } from '../../i18n/words.ts';
import { formatStep, formatTemperature } from '../../units/format-temperature.ts';
import type { UnitSystem } from '../../units/shown-units.ts';

/** The dew point that follows from air and steel, and what the 3 degree rule says. */
export function DewPointLine({ dewPoint, system }: { dewPoint: DewPointMargin | null; system: UnitSystem }): ReactNode {
  if (dewPoint === null) return null;
  const { dewPointC, marginC, decision } = dewPoint;
  const at = formatTemperature(dewPointC, system);
  const step = formatStep(Math.abs(marginC), system);
  return (
    <Notice kind={decision === 'meets' ? 'note' : 'caution'}>
      {marginC < 0 ? words.reading.belowDewPoint(at, step) : words.reading.dewPoint(at, step)}{' '}
      {words.reading.rule[system][decision]}
    </Notice>
  );
}

export function SaltsLine({ saltDensityMgPerM2 }: { saltDensityMgPerM2: number | null }): ReactNode {
  return saltDensityMgPerM2 === null ? null : <p>{words.reading.salts(saltDensityMgPerM2.toFixed(0))}</p>;
}
