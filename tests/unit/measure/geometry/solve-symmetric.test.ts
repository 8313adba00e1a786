import { describe, expect, it } from 'vitest';
import { invertSymmetric, solveSymmetric } from '../../../../server/measure/geometry/solve-symmetric.ts';

describe('symmetric positive definite systems', () => {
  it('are solved as by hand', () => {
    // 4x + 2y = 10, 2x + 3y = 9 has x = 1.5, y = 2.
    const x = solveSymmetric(Float64Array.of(4, 2, 2, 3), Float64Array.of(10, 9), 2);
    expect(x?.[0]).toBeCloseTo(1.5, 12);
    expect(x?.[1]).toBeCloseTo(2, 12);
  });

  it('have an inverse that multiplies to the unit matrix', () => {
    // The Hilbert matrix of order 4; its inverse is whole: first row 16, -120, 240, -140 (Choi, Am. Math. Monthly 90 (1983), from memory).
    const hilbert = Float64Array.from({ length: 16 }, (_, k) => 1 / (Math.floor(k / 4) + (k % 4) + 1));
    const inverse = invertSymmetric(hilbert, 4);
    [16, -120, 240, -140].forEach((e, k) => {
      expect(inverse?.[k]).toBeCloseTo(e, 6);
    });
  });

  it('are refused when singular, indefinite or not finite', () => {
    expect(solveSymmetric(Float64Array.of(1, 1, 1, 1), Float64Array.of(1, 1), 2)).toBeNull();
    expect(invertSymmetric(Float64Array.of(1, 2, 2, 1), 2)).toBeNull();
    expect(invertSymmetric(Float64Array.of(NaN, 0, 0, 1), 2)).toBeNull();
  });
});
