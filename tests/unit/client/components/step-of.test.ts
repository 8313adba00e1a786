import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { stepOf } from '../../../../client/components/step-of.ts';

const power = { min: 300, max: 2000, step: 50 };

describe('stepOf', () => {
  it('turns the dial by whole steps', () => {
    expect(stepOf(1000, 1, power)).toBe(1050);
    expect(stepOf(1000, -2, power)).toBe(900);
    expect(stepOf(0.3, 1, { min: 0, max: 1, step: 0.1 })).toBe(0.4);
  });

  it('takes a value between two steps to the next one in the direction of the turn', () => {
    expect(stepOf(1010, 1, power)).toBe(1050);
    expect(stepOf(1010, -1, power)).toBe(1000);
  });

  it('stops at the ends of the dial, also where an end lies between two steps', () => {
    expect(stepOf(2000, 1, power)).toBe(2000);
    expect(stepOf(350, -1, { min: 310, max: 2000, step: 50 })).toBe(310);
  });

  it('comes back after a step there and a step back', () => {
    fc.assert(
      fc.property(fc.integer({ min: 7, max: 39 }), (place) => {
        expect(stepOf(stepOf(place * 50, 1, power), -1, power)).toBe(place * 50);
      }),
    );
  });
});
