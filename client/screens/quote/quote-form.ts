import type { RequestOf } from '@domain/api/endpoints.ts';
import { readNumber } from '@domain/read-number.ts';
import type { ShownUnits } from '../../units/shown-units.ts';

export type QuoteFormField = 'area' | 'residue' | 'rate' | 'setUp' | 'beamShare';

type QuoteForm = Pick<RequestOf<'makeQuote'>['body'], 'areaM2' | 'target' | 'hourlyRate' | 'setUpHours' | 'beamShare'>;

/** What was typed into the quote's form, or which fields do not make sense. The area is in the shop's unit. */
export function readQuoteForm(
  textOf: (field: QuoteFormField) => string,
  units: Pick<ShownUnits, 'squareMetresOf'>,
): { form: QuoteForm | null; wrong: ReadonlySet<QuoteFormField> } {
  const wrong = new Set<QuoteFormField>();
  const number = (field: QuoteFormField, isRight: (value: number) => boolean): number => {
    const value = readNumber(textOf(field)) ?? NaN;
    if (!isRight(value)) wrong.add(field);
    return value;
  };
  const areaM2 = units.squareMetresOf(number('area', (area) => area > 0));
  const residueFractionMax = number('residue', (percent) => percent >= 0 && percent <= 100) / 100;
  const hourlyRate = number('rate', (rate) => rate >= 0);
  const setUpHours = number('setUp', (hours) => hours >= 0 && hours <= 1000);
  const isBeamGiven = textOf('beamShare').trim() !== '';
  const beam = isBeamGiven ? { beamShare: number('beamShare', (percent) => percent > 0 && percent <= 100) / 100 } : {};
  if (wrong.size > 0) return { form: null, wrong };
  return { form: { areaM2, target: { residueFractionMax }, hourlyRate, setUpHours, ...beam }, wrong };
}
