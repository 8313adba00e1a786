import type { ReactNode } from 'react';
import type { ZoneRecord } from '@domain/api/records.ts';
import { Notice } from '../../components/notice.tsx';
import { words } from '../../i18n/words.ts';

type Computed = Pick<ZoneRecord, 'computed'>;

/** The dew point that follows from the kept readings, and what the 3 degree rule says. */
export function DewPointLine({ computed: { dewPoint } }: Computed): ReactNode {
  if (dewPoint === null) return null;
  const { dewPointC, marginC, decision } = dewPoint;
  return (
    <Notice kind={decision === 'meets' ? 'note' : 'caution'}>
      {words.reading.dewPoint(dewPointC.toFixed(1), marginC.toFixed(1))} {words.reading.rule[decision]}
    </Notice>
  );
}

export function SaltsLine({ computed: { saltDensityMgPerM2 } }: Computed): ReactNode {
  return saltDensityMgPerM2 === null ? null : <p>{words.reading.salts(saltDensityMgPerM2.toFixed(0))}</p>;
}
