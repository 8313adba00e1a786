import type { Climate, InspectionRecord, Readings, RecordPerson, SurfaceProfile, Typed } from '../../domain/index.ts';
import { DEW_POINT_MARGIN_C, dewPointMargin } from '../../domain/dew-point-margin.ts';
import { meanReading } from '../readings/mean-reading.ts';
import { saltDensityMgPerM2 } from '../../domain/salt-density.ts';
import { dayWords, momentWords, percent, trimmed } from './quantity-words.ts';
import type { QuantityWords } from './quantity-words.ts';
import type { ReportFact } from './report.ts';

interface Entry {
  readonly by: RecordPerson;
  readonly at: string;
  readonly typed?: Typed | undefined;
}

/** @param fields those of the value that are told of; all of them without it */
function enteredBy({ by, at, typed = {} }: Entry, fields = Object.keys(typed)): string {
  const words = fields.flatMap((field) => (field in typed ? [typed[field]] : []));
  const asTyped = words.length === 0 ? '' : `; typed “${words.join('”, “')}”`;
  return `entered by ${by.name}, ${momentWords(at)}${asTyped}`;
}
const NOT_ENTERED = 'not entered';

/** Every reading in a fixed order; one that nobody entered says so. */
export function describeReadings(readings: Readings, words: QuantityWords): ReportFact[] {
  const fact = <T>(
    label: string,
    entry: (Entry & { readonly value: T }) | null,
    say: (value: T) => string,
  ): ReportFact =>
    entry === null
      ? { label, value: NOT_ENTERED }
      : { label, value: say(entry.value), note: enteredBy(entry), isEntered: true };
  return [
    fact('Scrape test', readings.scrapeTest, ({ result, where }) => `${result}; ${where}`),
    fact('Surface profile', readings.surfaceProfile, (profile) => profileWords(profile, words)),
    fact(
      'Dust, tape test',
      readings.dust,
      (d) => `quantity ${d.quantityRating}, size class ${d.sizeClass} (each 0 to 5)`,
    ),
    fact('Soluble salts', readings.solubleSalts, (salts) => {
      const rise = `${trimmed(salts.conductivityRiseUsPerCm, 1)} µS/cm, ${trimmed(salts.waterVolumeMl, 1)} ml, ${trimmed(salts.patchAreaMm2, 0)} mm²`;
      return `${saltDensityMgPerM2(salts).toFixed(0)} mg/m² mixed salts (${rise})`;
    }),
    ...climateFacts(readings.climate, words),
    fact('Time since cleaning', readings.timeSinceCleaning, ({ minutes, flashRust }) => {
      return `${durationWords(minutes)}; flash rust: ${flashRust}`;
    }),
  ];
}

function profileWords(profile: SurfaceProfile, words: QuantityWords): string {
  if (profile.method === 'comparator') return `${profile.word}, by ${profile.comparator} comparator`;
  const { mean, standardDeviation, least, most, count } = meanReading(profile.readingsUm);
  const spread = standardDeviation === null ? '' : `, standard deviation ${words.profile(standardDeviation)}`;
  return `${words.profile(mean)} mean of ${count} (${words.profile(least)} to ${words.profile(most)}${spread}), by ${profile.method}`;
}

const MARGIN_WORDS = {
  meets: 'the 3 °C rule is met',
  'does not meet': 'the 3 °C rule is not met: do not coat',
  'cannot tell': 'too close to the 3 °C rule to tell with these instruments',
} as const;

function climateFacts(entry: (Entry & { readonly value: Climate }) | null, words: QuantityWords): ReportFact[] {
  if (entry === null) return [{ label: 'Air, steel and dew point', value: NOT_ENTERED }];
  const { airTemperatureC, surfaceTemperatureC, relativeHumidity } = entry.value;
  const margin = dewPointMargin(entry.value);
  const half = margin.marginUncertaintyC === null ? '' : ` ± ${words.temperatureStep(margin.marginUncertaintyC)}`;
  const note = (field: keyof Climate): string => enteredBy(entry, [field]);
  return [
    {
      label: 'Air temperature',
      value: words.temperature(airTemperatureC),
      note: note('airTemperatureC'),
      isEntered: true,
    },
    { label: 'Relative humidity', value: percent(relativeHumidity), note: note('relativeHumidity'), isEntered: true },
    {
      label: 'Steel temperature',
      value: words.temperature(surfaceTemperatureC),
      note: note('surfaceTemperatureC'),
      isEntered: true,
    },
    {
      label: 'Dew point',
      value: words.temperature(margin.dewPointC),
      note: 'computed, Magnus formula (WMO constants)',
    },
    {
      label: 'Steel above dew point',
      value: `${words.temperatureStep(margin.marginC)}${half}; ${MARGIN_WORDS[margin.decision]}`,
      note: `computed; ${words.temperatureStep(DEW_POINT_MARGIN_C)} is common practice, ISO 8502-4 is guidance`,
    },
  ];
}

export function durationWords(minutes: number): string {
  if (minutes < 60) return `${trimmed(minutes, 1)} min`;
  const hours = Math.floor(minutes / 60);
  const rest = Math.round(minutes - 60 * hours);
  return rest === 0 ? `${hours} h` : `${hours} h ${rest} min`;
}

export const describeInstruments = ({ instruments }: Readings): ReportFact[] =>
  instruments.map(({ value, ...entry }) => ({
    label: `${value.kind}, serial number ${value.serialNumber}`,
    value: `${value.calibratedOn === null ? 'calibration not known' : `calibrated ${dayWords(value.calibratedOn)}`}; used for ${value.usedFor}`,
    note: enteredBy(entry),
    isEntered: true,
  }));

/** Remarks on the zone, then what was noted with each round. */
export const describeRemarks = ({ readings, rounds }: InspectionRecord): ReportFact[] => [
  ...readings.remarks.map(({ value, ...entry }) => ({
    label: 'Remark',
    value: value.text,
    note: enteredBy(entry),
    isEntered: true,
  })),
  ...rounds.flatMap(({ number, note }) =>
    note === undefined
      ? []
      : [{ label: `Round ${number}`, value: note, note: 'noted with the round', isEntered: true }],
  ),
];

/** What people painted, and what the shares come to with it. */
export function describeCorrections({ corrections, rounds }: InspectionRecord, words: QuantityWords): ReportFact[] {
  const painted = corrections.map(({ round, photo, by, at, what, areaMm2, withdrawn }) => {
    const taken = withdrawn === null ? '' : `; taken back by ${withdrawn.by.name}, ${momentWords(withdrawn.at)}`;
    return {
      label: `Round ${round}, ${photo}`,
      value: `${what}${areaMm2 === null ? '' : ` (${words.area(areaMm2)})`}`,
      note: `painted by ${by.name}, ${momentWords(at)}${taken}`,
      isEntered: true,
    };
  });
  const results = rounds.flatMap(({ number, corrected }) =>
    (['before', 'after'] as const).flatMap((photo) => {
      const shares = corrected[photo];
      if (shares === null) return [];
      const value = `${percent(shares.residue)} residue, ${percent(shares.fractions.stain)} stain`;
      const note = `${percent(shares.changedFraction)} of the zone was changed by hand`;
      return [{ label: `Round ${number}, ${photo}, corrected`, value, note }];
    }),
  );
  return [...painted, ...results];
}
