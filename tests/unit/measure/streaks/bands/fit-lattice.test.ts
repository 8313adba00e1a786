import { describe, expect, it } from 'vitest';
import { fitLattice } from '../../../../../server/measure/streaks/bands/fit-lattice.ts';

describe('evenly spaced places through lines', () => {
  // By hand: slope of (0, 11, 19, 30) over rank = (-1.5 x -15 + -0.5 x -4 + 0.5 x 4 + 1.5 x 15) / 5 = 9.8.
  it('is the straight line of least squares over the rank', () => {
    const lattice = fitLattice([0, 11, 19, 30]);
    expect(lattice.spacing).toBeCloseTo(9.8, 12);
    // Residuals -0.3, 0.9, -0.9, 0.3: root mean square 0.6708 over 9.8.
    expect(lattice.unevenness).toBeCloseTo(0.67082 / 9.8, 5);
    expect(lattice.count).toBe(4);
  });

  it('takes two places as they are', () => {
    expect(fitLattice([3, 48])).toEqual({ spacing: 45, unevenness: 0, count: 2, squares: 0.5 });
  });

  it('counts places that are missing where their ranks are given', () => {
    const lattice = fitLattice([0, 20, 60], [0, 1, 3]);
    expect(lattice.spacing).toBeCloseTo(20, 12);
    expect(lattice.unevenness).toBeCloseTo(0, 12);
    // Ranks about their mean of 4/3: 16/9 + 1/9 + 25/9.
    expect(lattice.squares).toBeCloseTo(42 / 9, 12);
  });

  it('keeps its unevenness when everything is scaled', () => {
    const places = [0, 21, 39, 62];
    const scaled = fitLattice(places.map((place) => 3 * place));
    expect(scaled.spacing).toBeCloseTo(3 * fitLattice(places).spacing, 9);
    expect(scaled.unevenness).toBeCloseTo(fitLattice(places).unevenness, 9);
  });

  it('asks for two places', () => {
    expect(() => fitLattice([1])).toThrow('at least two places');
  });
});
