import { CONVERTIBLE_GROUPS } from './readings.ts';
import type { TypedReadings } from './readings.ts';
import { US_UNIT_OF_FIELD, metricOfTyped } from './us-customary.ts';
import type { ConvertibleField } from './us-customary.ts';

type Group = (typeof CONVERTIBLE_GROUPS)[number];
type Entry = Partial<Record<Group, object | null | undefined>> & { readonly typed?: TypedReadings | undefined };

const isConvertible = (field: string): field is ConvertibleField => field in US_UNIT_OF_FIELD;

/** What was typed must be what is kept: fields whose typed words come to something else than their value. */
export function typedThatDiffer(entry: Entry): { readonly group: Group; readonly field: string }[] {
  return CONVERTIBLE_GROUPS.flatMap((group) =>
    Object.entries(entry.typed?.[group] ?? {}).flatMap(([field, text]) => {
      const kept = (entry[group] as Record<string, unknown> | null | undefined)?.[field];
      const values: unknown[] = Array.isArray(kept) ? kept : [kept];
      const said = isConvertible(field) ? metricOfTyped(field, text) : null;
      const isSame = said !== null && said.length === values.length && said.every((value, i) => value === values[i]);
      return isSame ? [] : [{ group, field }];
    }),
  );
}
