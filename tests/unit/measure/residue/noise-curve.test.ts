import { describe, expect, it } from 'vitest';
import { fitNoiseCurve } from '../../../../server/measure/residue/noise-curve.ts';
import type { GreyNoise } from '../../../../server/measure/residue/noise-curve.ts';

/** Noise that falls with lightness as exp(-1 - x + x^2 / 2), x = (L - 50) / 40. */
const squareAt = (lightness: number): number => {
  const x = (lightness - 50) / 40;
  return Math.exp(-1 - x + (x * x) / 2);
};
const greys: GreyNoise[] = [20, 30, 40, 50, 60, 70, 80, 90].map((lightness) => ({
  lightness,
  square: squareAt(lightness),
}));

describe('noise over lightness', () => {
  it('is a parabola through the logarithms', () => {
    const curve = fitNoiseCurve(greys);
    for (const lightness of [25, 47, 85]) {
      expect(curve?.squareAt(lightness)).toBeCloseTo(squareAt(lightness), 6);
    }
  });

  it('leaves out a grey that dirt makes ten times as rough', () => {
    const soiled = greys.map((grey, i) => (i === 3 ? { ...grey, square: 10 * grey.square } : grey));
    expect((fitNoiseCurve(soiled)?.squareAt(50) ?? NaN) / squareAt(50)).toBeCloseTo(1, 1);
  });

  it('does not run away beyond the greys', () => {
    const curve = fitNoiseCurve(greys);
    expect(curve?.squareAt(5)).toBe(curve?.squareAt(20));
    expect(curve?.squareAt(120)).toBe(curve?.squareAt(90));
  });

  it('knows itself less well where greys scatter', () => {
    const scattered = greys.map((grey, i) => ({ ...grey, square: grey.square * (i % 2 === 0 ? 1.3 : 0.77) }));
    expect(fitNoiseCurve(scattered)?.relativeSigma).toBeGreaterThan(3 * (fitNoiseCurve(greys)?.relativeSigma ?? NaN));
  });

  it('is the median of a few greys, and nothing without any', () => {
    const curve = fitNoiseCurve(greys.slice(0, 3));
    expect(curve?.squareAt(90)).toBeCloseTo(greys[1].square, 9);
    expect(fitNoiseCurve([])).toBeNull();
  });
});
