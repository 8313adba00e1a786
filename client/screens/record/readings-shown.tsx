import type { ReactNode } from 'react';
import type { Readings } from '@domain/readings.ts';
import type { ZoneRecord } from '@domain/api/records.ts';
import { words } from '../../i18n/words.ts';
import { formatMoment } from '../../units/format-moment.ts';
import { useUnits } from '../../units/use-units.ts';
import type { UnitSystem } from '../../units/shown-units.ts';
import { DewPointLine, SaltsLine } from './reading-lines.tsx';
import { quantityUnit, shownQuantities } from './shown-quantities.ts';
import type { QuantityName } from './shown-quantities.ts';

interface Entry<Value> {
  readonly by: { readonly name: string };
  readonly at: string;
  readonly value: Value;
  readonly typed?: Readonly<Record<string, string>> | undefined;
}
interface Line {
  readonly label: string;
  readonly value: string;
  readonly by: string;
}

/** What people read, once it can no longer be changed. */
export function ReadingsShown({ record }: { record: ZoneRecord }): ReactNode {
  const { system } = useUnits();
  const lines = linesOf(record.readings, system);
  if (lines.length === 0) return <p className="muted">{words.record.noReadings}</p>;
  return (
    <div className="stack">
      <dl className="facts record-readings">
        {lines.map(({ label, value, by }) => (
          <div key={`${label} ${value}`}>
            <dt>{label}</dt>
            <dd>{value}</dd>
            <dd className="small muted">{by}</dd>
          </div>
        ))}
      </dl>
      <DewPointLine dewPoint={record.computed.dewPoint} system={system} />
      <SaltsLine saltDensityMgPerM2={record.computed.saltDensityMgPerM2} />
    </div>
  );
}

function enteredBy({ by, at, typed }: Entry<unknown>): string {
  const who = words.record.enteredBy(by.name, formatMoment(at));
  return typed === undefined ? who : `${who}; ${words.reading.typed(Object.values(typed).join(', '))}`;
}

function linesOf(readings: Readings, system: UnitSystem): Line[] {
  const line = <Value,>(label: string, entry: Entry<Value> | null, say: (value: Value) => string): Line[] =>
    entry === null ? [] : [{ label, value: say(entry.value), by: enteredBy(entry) }];
  const shown = shownQuantities(readings, system);
  const quantity = (name: QuantityName): string =>
    `${shown[name].text.replace(/[,;]?\s+/g, ', ')} ${quantityUnit(name, system)}`;
  return [
    ...line(words.reading.climate, readings.climate, (c) =>
      words.reading.climateLine(
        quantity('airTemperature'),
        quantity('surfaceTemperature'),
        `${(c.relativeHumidity * 100).toFixed(0)} %`,
      ),
    ),
    ...line(words.reading.surfaceProfile, readings.surfaceProfile, (profile) =>
      profile.method === 'comparator'
        ? `${profile.word}, ${profile.comparator}`
        : `${quantity('profileReadings')}, ${profile.method}`,
    ),
    ...line(words.reading.dust, readings.dust, (dust) => `${dust.quantityRating} / ${dust.sizeClass}`),
    ...line(words.reading.solubleSalts, readings.solubleSalts, (salts) => `${salts.conductivityRiseUsPerCm} µS/cm`),
    ...line(words.reading.scrapeTest, readings.scrapeTest, ({ result, where }) => `${result}; ${where}`),
    ...line(words.reading.timeSinceCleaning, readings.timeSinceCleaning, (s) => `${s.minutes} min; ${s.flashRust}`),
    ...readings.instruments.flatMap((entry) =>
      line(`${entry.value.kind} ${entry.value.serialNumber}`, entry, ({ calibratedOn, usedFor }) =>
        [calibratedOn ?? words.reading.calibrationUnknown, usedFor].join('; '),
      ),
    ),
    ...readings.remarks.flatMap((entry) => line(words.reading.remarks, entry, ({ text }) => text)),
  ];
}
