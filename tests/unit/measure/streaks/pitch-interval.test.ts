import { describe, expect, it } from 'vitest';
import { fitLattice } from '../../../../server/measure/streaks/bands/fit-lattice.ts';
import { latticePitch } from '../../../../server/measure/streaks/pitch-interval.ts';

const width = (places: readonly number[]): number => {
  const { low, high } = latticePitch(fitLattice(places));
  return high - low;
};

describe('the interval of a spacing of single lines', () => {
  it('holds the spacing in its middle', () => {
    const pitch = latticePitch(fitLattice([0, 50, 100, 150]));
    expect(pitch.value).toBeCloseTo(50, 9);
    expect((pitch.low + pitch.high) / 2).toBeCloseTo(50, 9);
  });

  it('is wider for two lines than for five, which show their scatter', () => {
    expect(width([0, 50])).toBeGreaterThan(2 * width([0, 50, 100, 150, 200]));
  });

  it('does not shrink to nothing for three lines that happen to lie even', () => {
    expect(width([0, 50, 100])).toBeGreaterThan(0.04 * 50);
  });

  it('grows with the unevenness of the lines', () => {
    expect(width([0, 56, 96, 150])).toBeGreaterThan(width([0, 50, 100, 150]));
  });
});
