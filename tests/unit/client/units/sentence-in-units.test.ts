import { describe, expect, it } from 'vitest';
import { sentenceInUnits } from '../../../../client/units/sentence-in-units.ts';
import { shownUnits } from '../../../../client/units/shown-units.ts';

const inches = shownUnits('inches');
/** Numbers are held to their units; here the words count. */
const shownIn = (sentence: string, units: typeof inches): string =>
  sentenceInUnits(sentence, units).replaceAll('\u00a0', ' ');

describe('a sentence in the units of the shop', () => {
  it('stays as it is in a shop that uses millimetres', () => {
    const sentence = 'In the worst 76 mm square, residue 18 % is there.';
    expect(shownIn(sentence, shownUnits('millimetres'))).toBe(sentence);
  });

  it('holds a number to its unit where a line ends', () => {
    expect(sentenceInUnits('17 J/cm2 in 2.1 min/m2 leave 10 % (0.5 % to 22 %) of 3 passes', inches)).toBe(
      '17\u00a0J/cm² in 0.2\u00a0min/ft² leave 10\u00a0% (0.5\u00a0% to 22\u00a0%) of 3 passes',
    );
  });

  it('prints the raised figure of squares', () => {
    const metric = 'strokes of 17 J/cm2, about 7.4 min/m2 on 12 m2';
    expect(shownIn(metric, shownUnits('millimetres'))).toBe('strokes of 17 J/cm², about 7.4 min/m² on 12 m²');
  });

  it.each([
    // 25.4 mm to the inch, exactly: 76 / 25.4 = 2.99, 3.2 / 25.4 = 0.126, 64.5 / 25.4 = 2.54.
    ['In the worst 76 mm square', 'In the worst 2.99 in square'],
    ['Even stripes 3.2 mm (3.1 to 3.3 mm) apart', 'Even stripes 0.126 in (0.122 to 0.13 in) apart'],
    [
      'a travel of 64 mm/s, faster than the 50 mm/s intended',
      'a travel of 2.52 in/s, faster than the 1.97 in/s intended',
    ],
    // 0.09290304 m2 to the square foot, exactly: 10 x 0.0929 = 0.93.
    ['takes 10 min/m²', 'takes 0.93 min/ft²'],
    // 40 / 0.09290304 = 430.6; energies stay metric in either unit of length.
    ['A patch of 300 x 100 mm on 40 m2 with 17 J/cm2', 'A patch of 11.8 x 3.94 in on 431 ft² with 17 J/cm²'],
  ])('says "%s" in inches', (metric, shown) => {
    expect(shownIn(metric, inches)).toBe(shown);
  });

  it('leaves alone what is no length', () => {
    const sentence = 'At 50 Hz and 2000 W for 3 passes, 12 % to 14 % is left; MM 3 is no length, nor is 5 mmHg.';
    expect(shownIn(sentence, inches)).toBe(sentence);
  });
});
