import { failure, success } from '../../domain/index.ts';
import type { GaugeStudy, Outcome } from '../../domain/index.ts';

/** values[operator][zone] are the repeats, as many everywhere. */
export interface BalancedLayout {
  readonly operators: readonly string[];
  readonly zones: readonly string[];
  readonly repeats: number;
  readonly values: readonly (readonly (readonly number[])[])[];
}

/** Sorts the measurements into operators x zones x repeats, or says what is missing. */
export function layOutStudy({ measurements }: GaugeStudy): Outcome<BalancedLayout> {
  const operators = [...new Set(measurements.map((m) => m.operator))].sort();
  const zones = [...new Set(measurements.map((m) => m.zone))].sort();
  const values = operators.map((operator) =>
    zones.map((zone) => measurements.filter((m) => m.operator === operator && m.zone === zone).map((m) => m.value)),
  );
  const repeats = values[0][0].length;
  const refuse = (detail: string): Outcome<BalancedLayout> =>
    failure({ code: 'gauge-study-malformed', path: 'measurements', detail });
  if (operators.length < 2) return refuse('needs at least two operators');
  if (zones.length < 2) return refuse('needs at least two zones');
  for (const [o, row] of values.entries()) {
    const odd = row.findIndex((cell) => cell.length !== repeats);
    if (odd >= 0) {
      return refuse(
        `is not balanced: ${operators[o]} measured ${zones[odd]} ${row[odd].length} times, ${operators[0]} measured ${zones[0]} ${repeats} times`,
      );
    }
  }
  if (repeats < 2) return refuse('needs every zone measured at least twice by every operator');
  return success({ operators, zones, repeats, values });
}
