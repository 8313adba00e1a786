import { dialStepsSchema } from '@domain/api/machines.ts';
import type { DialSteps } from '@domain/api/machines.ts';
import { machineSchema } from '@domain/machine.ts';
import type { Machine } from '@domain/machine.ts';
import { readNumber } from '@domain/read-number.ts';
import type { ShownUnits } from '../../units/shown-units.ts';

export const DIALS = ['powerW', 'scanWidthMm', 'scanFrequencyHz', 'travelSpeedMmPerS'] as const;
export type Dial = (typeof DIALS)[number];
export const ENDS = ['min', 'max', 'step'] as const;
export type DialField = `${Dial}.${(typeof ENDS)[number]}`;
export type MachineField = DialField | 'spotDiameterMm' | 'maxPasses';

export interface MachineDescription {
  readonly machine: Machine;
  readonly dialSteps: DialSteps;
}

const isLength = (field: MachineField): boolean => field === 'spotDiameterMm' || /Mm(PerS)?\./.test(field);
/** Decimals that a typed length keeps: a hundredth of a millimetre either way. */
const DECIMALS = { millimetres: 3, inches: 4 } as const;

function valuesOf({ machine, dialSteps }: MachineDescription): ReadonlyMap<MachineField, number> {
  const values = new Map<MachineField, number>([
    ['spotDiameterMm', machine.spotDiameterMm],
    ['maxPasses', machine.maxPasses],
  ]);
  for (const dial of DIALS) {
    values.set(`${dial}.min`, machine[dial].min);
    values.set(`${dial}.max`, machine[dial].max);
    values.set(`${dial}.step`, dialSteps[dial]);
  }
  return values;
}

export const fieldsOf = (description: MachineDescription): readonly MachineField[] => [...valuesOf(description).keys()];

/** What the fields say at first, in the shop's units. */
export function machineTexts(description: MachineDescription, units: ShownUnits): ReadonlyMap<MachineField, string> {
  const shown = ([field, value]: [MachineField, number]): [MachineField, string] => {
    const number = isLength(field) ? units.lengthOf(value) : value;
    return [field, String(Number(number.toFixed(DECIMALS[units.system])))];
  };
  return new Map([...valuesOf(description)].map(shown));
}

export type Wrong = 'number' | 'order' | 'passes';
export type MachineReading =
  | { readonly description: MachineDescription; readonly wrong: null }
  | { readonly description: null; readonly wrong: ReadonlyMap<Dial | 'spotDiameterMm' | 'maxPasses', Wrong> };

/**
 * Reads the fields. One that still says what it said at first keeps its stored value, so that 100 mm shown as 3.937 in stay
 * 100 mm.
 */
export function readMachineForm(
  typed: ReadonlyMap<MachineField, string>,
  strokesPerCycle: Machine['strokesPerCycle'],
  first: MachineDescription,
  units: ShownUnits,
): MachineReading {
  const [texts, stored] = [machineTexts(first, units), valuesOf(first)];
  const valueOf = (field: MachineField): number => {
    if (typed.get(field) === texts.get(field)) return stored.get(field) ?? NaN;
    const number = readNumber(typed.get(field) ?? '') ?? NaN;
    return isLength(field) ? units.millimetresOf(number) : number;
  };
  const wrong = new Map<Dial | 'spotDiameterMm' | 'maxPasses', Wrong>();
  for (const dial of DIALS) {
    const [min, max, step] = ENDS.map((end) => valueOf(`${dial}.${end}`));
    if (!(min > 0 && max > 0 && step > 0)) wrong.set(dial, 'number');
    else if (min > max) wrong.set(dial, 'order');
  }
  if (!(valueOf('spotDiameterMm') > 0)) wrong.set('spotDiameterMm', 'number');
  const maxPasses = valueOf('maxPasses');
  if (!(Number.isInteger(maxPasses) && maxPasses >= 1 && maxPasses <= 1000)) wrong.set('maxPasses', 'passes');
  if (wrong.size > 0) return { description: null, wrong };
  const limits = DIALS.map((dial) => [dial, { min: valueOf(`${dial}.min`), max: valueOf(`${dial}.max`) }] as const);
  const spotDiameterMm = valueOf('spotDiameterMm');
  const machine = machineSchema.parse({ ...Object.fromEntries(limits), strokesPerCycle, spotDiameterMm, maxPasses });
  const dialSteps = dialStepsSchema.parse(Object.fromEntries(DIALS.map((dial) => [dial, valueOf(`${dial}.step`)])));
  return { description: { machine, dialSteps }, wrong: null };
}
