import { describe, expect, it } from 'vitest';
import { rampColour } from '../../../server/domain/ramp-colour.ts';

describe('the colours of a dose picture', () => {
  it.each(['residue', 'energy'] as const)('tell the order of %s by lightness alone', (ramp) => {
    const lightness = Array.from({ length: 11 }, (_, step) => rampColour(ramp, step / 10).reduce((a, b) => a + b));
    const rising = ramp === 'energy' ? 1 : -1;
    for (let step = 1; step < lightness.length; step++) {
      expect(rising * (lightness[step] - lightness[step - 1])).toBeGreaterThan(0);
    }
    expect(rampColour(ramp, -1)).toEqual(rampColour(ramp, 0));
    expect(rampColour(ramp, 2)).toEqual(rampColour(ramp, 1));
  });
});
