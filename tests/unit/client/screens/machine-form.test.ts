import { describe, expect, it } from 'vitest';
import { machineTexts, readMachineForm } from '../../../../client/screens/machines/machine-form.ts';
import type { MachineField } from '../../../../client/screens/machines/machine-form.ts';
import { USUAL_MACHINE } from '../../../../client/screens/machines/usual-machine.ts';
import { shownUnits } from '../../../../client/units/shown-units.ts';

const mm = shownUnits('millimetres');
const inches = shownUnits('inches');
const typing = (units: typeof mm, ...changes: [MachineField, string][]): ReadonlyMap<MachineField, string> =>
  new Map([...machineTexts(USUAL_MACHINE, units), ...changes]);

describe('the form of a machine', () => {
  it('gives back what it showed, in inches too, where a number rounds', () => {
    for (const units of [mm, inches]) {
      expect(readMachineForm(typing(units), 2, USUAL_MACHINE, units)).toEqual({
        description: USUAL_MACHINE,
        wrong: null,
      });
    }
    expect(machineTexts(USUAL_MACHINE, inches).get('scanWidthMm.max')).toBe('5.9055');
  });

  it('reads typed lengths in the unit of the shop: 4 in are 101.6 mm', () => {
    const reading = readMachineForm(
      typing(inches, ['scanWidthMm.max', '4'], ['powerW.max', '1500']),
      1,
      USUAL_MACHINE,
      inches,
    );
    expect(reading.description?.machine.scanWidthMm.max).toBeCloseTo(101.6, 9);
    expect(reading.description?.machine).toMatchObject({ powerW: { max: 1500 }, strokesPerCycle: 1 });
  });

  it('says which dial is wrong and how', () => {
    const typed = typing(
      mm,
      ['powerW.min', '2500'],
      ['scanFrequencyHz.step', '0'],
      ['spotDiameterMm', 'two'],
      ['maxPasses', '2.5'],
    );
    const reading = readMachineForm(typed, 2, USUAL_MACHINE, mm);
    expect(reading.description).toBeNull();
    expect([...(reading.wrong ?? [])]).toEqual([
      ['powerW', 'order'],
      ['scanFrequencyHz', 'number'],
      ['spotDiameterMm', 'number'],
      ['maxPasses', 'passes'],
    ]);
  });
});
