import { failure, success } from '../../domain/index.ts';
import type { Outcome } from '../../domain/index.ts';
import { ILLUMINANTS } from '../colour/white-point.ts';
import type { Illuminant, ObserverDegrees } from '../colour/white-point.ts';
import type { CgatsLine } from './cgats-tables.ts';

/** The light and the observer that Lab or XYZ values are for. */
export interface MeasuringCondition {
  readonly illuminant: Illuminant;
  readonly observerDegrees: ObserverDegrees;
}

export interface StatedCondition {
  readonly condition: MeasuringCondition;
  /** What was taken for granted because the file does not say it, as sentences without a full stop. */
  readonly assumed: readonly string[];
}

/** Keywords whose value is a condition and nothing else: an unknown value there is refused. */
const DEDICATED =
  /^(ILLUMINANT|ILLUMINATION|ILLUMINATION_NAME|OBSERVER|OBSERVER_ANGLE|WEIGHTING_FUNCTION|MEASUREMENT_SOURCE)$/i;
/** `ILLUMINANT "D50"`, `WEIGHTING_FUNCTION "ILLUMINANT, D50"`, `Illumination=D50`, `(light D50, viewing angle 2)`. */
const ILLUMINANT_SAID =
  /(?:illuminant|illumination(?:_name)?|\blight(?=\s+(?:D|FL?)\d))\b[\s=:,"]*(?:CIE\s*)?(?:illuminant\s*)?([^\s,;"()/]+)/i;
/** `OBSERVER "2"`, `ObserverAngle=2`, `"OBSERVER, 2 degree"`, `viewing angle 2`, `CIE 1931`. */
const OBSERVER_SAID = /(?:observer(?:[_\s]?angle)?|viewing angle)[\s=:,"]*(?:CIE\s*)?([^\s,;"()/]+)/i;
const OBSERVERS: Readonly<Record<string, ObserverDegrees>> = { '2': 2, '1931': 2, '10': 10, '1964': 10 };

interface Statement<T> {
  readonly value: T;
  readonly line: number;
}

/**
 * Reads illuminant and observer from the header of a table; what is not said is taken as D50 and 2 degrees, the
 * practice of the print trade ([ISO13655]), and reported as assumed. Two lines that differ, or a dedicated keyword with
 * an unknown value, are refused.
 */
export function readMeasuringCondition(header: readonly CgatsLine[]): Outcome<StatedCondition> {
  let illuminant: Statement<Illuminant> | null = null;
  let observer: Statement<ObserverDegrees> | null = null;
  for (const { line, words } of header) {
    const text = words.join(' ');
    const isDedicated = DEDICATED.test(words[0]);
    const light: Outcome<Statement<Illuminant> | null> = agree(illuminant, ILLUMINANT_SAID.exec(text)?.[1], {
      line,
      isDedicated,
      parse: parseIlluminant,
    });
    if (!light.ok) return light;
    illuminant = light.value;
    const eye: Outcome<Statement<ObserverDegrees> | null> = agree(observer, OBSERVER_SAID.exec(text)?.[1], {
      line,
      isDedicated,
      parse: parseObserver,
    });
    if (!eye.ok) return eye;
    observer = eye.value;
  }
  const assumed: string[] = [];
  if (illuminant === null) assumed.push('The values are taken as for illuminant D50, since the file names none');
  if (observer === null) assumed.push('The values are taken as for the 2 degree observer, since the file names none');
  return success({
    condition: { illuminant: illuminant?.value ?? 'D50', observerDegrees: observer?.value ?? 2 },
    assumed,
  });
}

function agree<T extends string | number>(
  known: Statement<T> | null,
  said: string | undefined,
  { line, isDedicated, parse }: { line: number; isDedicated: boolean; parse: (said: string) => T | null },
): Outcome<Statement<T> | null> {
  if (said === undefined) return success(known);
  const value = parse(said);
  if (value === null) {
    return isDedicated
      ? failure({
          code: 'card-values-malformed',
          line,
          detail: `the measuring condition "${said}" is not known`,
        })
      : success(known);
  }
  if (known !== null && known.value !== value) {
    const detail = `the measuring condition ${value} contradicts ${known.value} in line ${known.line}`;
    return failure({ code: 'card-values-malformed', line, detail });
  }
  return success(known ?? { value, line });
}

function parseIlluminant(said: string): Illuminant | null {
  const name = said.toUpperCase().replace('_', '').replace(/^FL/, 'F');
  return ILLUMINANTS.find((illuminant) => illuminant === name) ?? null;
}

function parseObserver(said: string): ObserverDegrees | null {
  const digits = said.replace(/\D/g, '');
  return Object.hasOwn(OBSERVERS, digits) ? OBSERVERS[digits] : null;
}
