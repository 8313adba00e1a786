import type { ReadingEntry } from '../domain/api/records.ts';
import type { Readings, RecordPerson, Typed } from '../domain/index.ts';
import { canonicalJson } from '../evidence/canonical-json.ts';

interface Entry<Value> {
  readonly source: 'entered by a person';
  readonly by: RecordPerson;
  readonly at: string;
  readonly value: Value;
  readonly typed?: Typed | undefined;
}
type Stamp = <Value>(value: Value, words?: Typed) => Entry<Value>;

/**
 * Lays what was typed over the readings so far. A value that is typed again unchanged keeps who entered it first; a changed
 * one is the later person's.
 */
export function enterReadings(readings: Readings, typed: ReadingEntry, by: RecordPerson, at: string): Readings {
  const stamp: Stamp = (value, words) => ({
    source: 'entered by a person',
    by,
    at,
    value,
    ...(words === undefined || Object.keys(words).length === 0 ? {} : { typed: words }),
  });
  const inWords = typed.typed ?? {};
  return {
    scrapeTest: laid(readings.scrapeTest, typed.scrapeTest, stamp),
    surfaceProfile: laid(readings.surfaceProfile, typed.surfaceProfile, (value) =>
      stamp(value, inWords.surfaceProfile),
    ),
    dust: laid(readings.dust, typed.dust, stamp),
    solubleSalts: laid(readings.solubleSalts, typed.solubleSalts, (value) => stamp(value, inWords.solubleSalts)),
    climate: laid(readings.climate, typed.climate, (value) => stamp(value, inWords.climate)),
    timeSinceCleaning: laid(readings.timeSinceCleaning, typed.timeSinceCleaning, stamp),
    instruments: laidList(readings.instruments, typed.instruments, stamp),
    remarks: laidList(readings.remarks, typed.remarks, stamp),
  };
}

function laid<Value>(before: Entry<Value> | null, typed: Value | null | undefined, stamp: Stamp): Entry<Value> | null {
  if (typed === undefined) return before;
  if (typed === null) return null;
  return before !== null && isSame(before.value, typed) ? before : stamp(typed);
}

const laidList = <Value>(
  before: readonly Entry<Value>[],
  typed: readonly Value[] | undefined,
  stamp: Stamp,
): Entry<Value>[] =>
  typed === undefined
    ? [...before]
    : typed.map((value) => before.find((entry) => isSame(entry.value, value)) ?? stamp(value));

const isSame = (a: unknown, b: unknown): boolean => canonicalJson(a) === canonicalJson(b);
