import { describe, expect, it } from 'vitest';
import { keptTogether } from '../../../../client/units/kept-together.ts';

describe('words that a line does not part', () => {
  it.each([
    ['does not meet Sa 2 1/2 yet', 'does not meet Sa\u00a02\u00a01/2 yet'],
    ['SSPC-SP 10 / NACE No. 2', 'SSPC-SP\u00a010 / NACE No.\u00a02'],
    ['about 63.9 mm/s; 50 mm/s was intended', 'about 63.9\u00a0mm/s; 50\u00a0mm/s was intended'],
    ['up to 90 °C on 3 mm plate', 'up to 90\u00a0°C on 3\u00a0mm plate'],
  ])('holds "%s"', (plain, held) => {
    expect(keptTogether(plain)).toBe(held);
  });

  it('leaves other words free to break', () => {
    const sentence = 'Round 3 was 5 mmHg, 2 Watts and 7 other things on Near-White Metal.';
    expect(keptTogether(sentence)).toBe(sentence);
  });
});
