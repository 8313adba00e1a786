import { describe, expect, it } from 'vitest';
import { readQuoteForm } from '../../../../client/screens/quote/quote-form.ts';
import { readTrialForm } from '../../../../client/screens/trials/trial-form.ts';
import { shownUnits } from '../../../../client/units/shown-units.ts';

const from =
  <Field extends string>(texts: Partial<Record<Field, string>>) =>
  (field: Field): string =>
    texts[field] ?? '';

describe('the form of a trial', () => {
  const typed = { couponWidth: '12', couponHeight: '8', thickness: '', patches: '8', residue: '5' };

  it('takes lengths in the shop’s unit and shares in percent', () => {
    const { form } = readTrialForm(from(typed), shownUnits('inches'));
    // 12 in and 8 in, exact by definition of the inch.
    expect(form?.couponWidthMm).toBeCloseTo(304.8, 9);
    expect(form?.couponHeightMm).toBeCloseTo(203.2, 9);
    expect(form).toMatchObject({ thicknessMm: null, patches: 8, residueFractionMax: 0.05 });
  });

  it('names every field that does not make sense', () => {
    const { form, wrong } = readTrialForm(
      from({ couponWidth: '0', couponHeight: 'x', thickness: '-1', patches: '1,5', residue: '101' }),
      shownUnits('millimetres'),
    );
    expect(form).toBeNull();
    expect([...wrong].sort()).toEqual(['couponHeight', 'couponWidth', 'patches', 'residue', 'thickness']);
  });
});

describe('the form of a quote', () => {
  it('takes the area in the shop’s unit', () => {
    const typed = { area: '100', residue: '5', rate: '80', setUp: '2', beamShare: '60' };
    const { form } = readQuoteForm(from(typed), shownUnits('inches'));
    // 100 square feet [NISTSP811].
    expect(form?.areaM2).toBeCloseTo(9.290304, 9);
    expect(form).toMatchObject({ hourlyRate: 80, setUpHours: 2, beamShare: 0.6 });
    expect(readQuoteForm(from({ ...typed, area: '', beamShare: '0' }), shownUnits('inches')).wrong).toEqual(
      new Set(['area', 'beamShare']),
    );
  });
});
