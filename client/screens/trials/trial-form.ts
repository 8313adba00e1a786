import { MOST_TRIAL_PATCHES } from '@domain/trial.ts';
import type { RequestOf } from '@domain/api/endpoints.ts';
import { readNumber } from '@domain/read-number.ts';
import type { ShownUnits } from '../../units/shown-units.ts';

export const TRIAL_FORM_FIELDS = ['couponWidth', 'couponHeight', 'thickness', 'patches', 'residue'] as const;
export type TrialFormField = (typeof TRIAL_FORM_FIELDS)[number];

type TrialForm = Pick<
  RequestOf<'addTrial'>['body'],
  'couponWidthMm' | 'couponHeightMm' | 'thicknessMm' | 'patches' | 'residueFractionMax'
>;

/** What was typed into the form of a new trial, or which fields do not make sense. Lengths are in the shop's unit. */
export function readTrialForm(
  textOf: (field: TrialFormField) => string,
  units: Pick<ShownUnits, 'millimetresOf'>,
): { form: TrialForm | null; wrong: ReadonlySet<TrialFormField> } {
  const wrong = new Set<TrialFormField>();
  const number = (field: TrialFormField, isRight: (value: number) => boolean): number => {
    const value = readNumber(textOf(field)) ?? NaN;
    if (!isRight(value)) wrong.add(field);
    return value;
  };
  const isLength = (value: number): boolean => value > 0;
  const couponWidthMm = units.millimetresOf(number('couponWidth', isLength));
  const couponHeightMm = units.millimetresOf(number('couponHeight', isLength));
  const thickness = textOf('thickness').trim() === '' ? null : units.millimetresOf(number('thickness', isLength));
  const patches = number('patches', (count) => Number.isInteger(count) && count >= 2 && count <= MOST_TRIAL_PATCHES);
  const residueFractionMax = number('residue', (percent) => percent >= 0 && percent <= 100) / 100;
  if (wrong.size > 0) return { form: null, wrong };
  return { form: { couponWidthMm, couponHeightMm, thicknessMm: thickness, patches, residueFractionMax }, wrong };
}
