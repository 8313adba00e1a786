import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { faultSentence } from '../../server/domain/index.ts';
import { referenceCard } from '../../server/measure/card/card-layout.ts';
import { readCardValues } from '../../server/measure/card/read-card-values.ts';
import { cardValuesText } from '../support/card-values-text.ts';

const card = referenceCard();
const good = cardValuesText(card, { paper: { L: 94, a: 0, b: -3 } });

/** Either a fault with a sentence, or finite values in range for every patch. */
function expectOutcome(text: string): void {
  const outcome = readCardValues(text, card);
  if (!outcome.ok) {
    expect(faultSentence(outcome.fault).length).toBeGreaterThan(10);
    if ('line' in outcome.fault) expect(outcome.fault.line).toBeGreaterThanOrEqual(1);
    return;
  }
  const labs = [...outcome.value.patches.values()];
  expect(labs).toHaveLength(card.patches.length);
  for (const { L, a, b } of labs) {
    expect([L, a, b].every(Number.isFinite)).toBe(true);
    expect(L).toBeGreaterThanOrEqual(0);
    expect(L).toBeLessThanOrEqual(100);
  }
}

describe('card values from any text', () => {
  it('give an outcome for arbitrary text', () => {
    fc.assert(fc.property(fc.string({ unit: 'binary', maxLength: 400 }), expectOutcome), { seed: 61, numRuns: 500 });
  });

  it('give an outcome for text made of the format’s own words in any order', () => {
    const word = fc.constantFrom(
      ...['CGATS.17', 'BEGIN_DATA_FORMAT', 'END_DATA_FORMAT', 'BEGIN_DATA', 'END_DATA', 'SAMPLE_ID', 'LAB_L', 'LAB_A'],
      ...[
        'LAB_B',
        'XYZ_X',
        'XYZ_Y',
        'XYZ_Z',
        'A1',
        'PAPER',
        '"',
        '#',
        '\n',
        '\r\n',
        '\t',
        '50',
        '-1e400',
        'NaN',
        '1,5',
      ],
      ...['NUMBER_OF_SETS', 'ILLUMINANT', 'D65', 'OBSERVER', '10', '__proto__', 'constructor'],
    );
    const text = fc.array(word, { maxLength: 60 }).map((words) => words.join(' '));
    fc.assert(fc.property(text, expectOutcome), { seed: 62, numRuns: 1000 });
  });

  it('give an outcome for a good file with a piece cut out or written over', () => {
    const damage = fc.tuple(fc.nat(good.length), fc.nat(40), fc.string({ maxLength: 12 }));
    fc.assert(
      fc.property(damage, ([start, length, filler]) => {
        expectOutcome(good.slice(0, start) + filler + good.slice(start + length));
      }),
      { seed: 63, numRuns: 1000 },
    );
  });

  it('do not depend on the order of the rows', () => {
    const lines = good.split('\n');
    const first = lines.indexOf('BEGIN_DATA') + 1;
    const last = lines.indexOf('END_DATA');
    const rows = lines.slice(first, last);
    const whole = readCardValues(good, card);
    fc.assert(
      fc.property(fc.shuffledSubarray(rows, { minLength: rows.length }), (shuffled) => {
        const text = [...lines.slice(0, first), ...shuffled, ...lines.slice(last)].join('\n');
        const outcome = readCardValues(text, card);
        expect(outcome.ok && whole.ok && Object.fromEntries(outcome.value.patches)).toEqual(
          whole.ok && Object.fromEntries(whole.value.patches),
        );
      }),
      { seed: 64, numRuns: 20 },
    );
  });
});
