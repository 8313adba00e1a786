import { describe, expect, it } from 'vitest';
import { BAND_SIGNS } from '../../../../../server/measure/streaks/bands/band-signs.ts';
import type { BandSigns } from '../../../../../server/measure/streaks/bands/band-signs.ts';
import { weighBands } from '../../../../../server/measure/streaks/bands/weigh-bands.ts';

const signsOf = (values: readonly number[]): BandSigns =>
  Object.fromEntries(BAND_SIGNS.map((sign, k) => [sign, values[k]])) as BandSigns;

describe('weighing bands', () => {
  // Reference library: mean of the decision functions of scikit-learn 1.9.1's GradientBoostingClassifier and
  // HistGradientBoostingClassifier, each with its part of the trees.
  it.each([
    {
      odds: -3.577,
      values: [
        0.77, 1.294, 0.0, 0.676, -0.596, 0.651, 0.192, 0.397, 0.707, 2.303, 2.89, 1.609, 0.824, 0.774, 0.007, 0.3,
        0.704, 0.045, 0.556, 0.715, 0.0,
      ],
    },
    {
      odds: -3.367,
      values: [
        0.692, 1.404, 0.0, 0.779, -0.286, 0.705, 0.448, 0.339, 0.198, 1.609, 1.609, 1.099, 1.726, 1.2, 0.04, 0.09,
        1.224, 0.188, 1.179, 0.835, 1.0,
      ],
    },
    {
      odds: 0.009,
      values: [
        0.165, 1.615, 0.0, 0.788, 0.695, 0.931, 0.487, 0.155, 0.08, 1.386, 1.792, 1.099, 2.114, 0.919, 0.005, 0.0, 0.36,
        1.174, 1.028, 1.0, 0.0,
      ],
    },
    {
      odds: -1.286,
      values: [
        0.425, 1.299, 2.0, 0.708, -2.303, 0.227, 0.384, 0.146, 0.0, 1.386, 1.609, 1.099, 0.427, 1.08, 0.145, 0.25,
        0.566, 0.781, 1.62, 0.717, 0.0,
      ],
    },
    {
      odds: 3.216,
      values: [
        0.0, 4.885, 1.0, 0.982, 1.572, 1.0, 0.902, 0.387, 0.007, 1.609, 1.609, 1.099, 3.345, 1.081, -0.0, 0.0, 0.197,
        1.586, 1.576, 1.0, 1.0,
      ],
    },
  ])('gives the log odds of the reference library: $odds', ({ odds, values }) => {
    expect(weighBands(signsOf(values))).toBeCloseTo(odds, 2);
  });

  it('finds more that speaks for a band the clearer it is of the unrest of the ground', () => {
    const values = [
      0.0, 4.885, 1.0, 0.982, 1.572, 1.0, 0.902, 0.387, 0.007, 1.609, 1.609, 1.099, 3.345, 1.081, -0.0, 0.0, 0.197,
      1.586, 1.576, 1.0, 1.0,
    ];
    const odds = [1.5, 1, 0.5, 0].map((unrest) => weighBands({ ...signsOf(values), unrest }));
    expect(odds).toEqual([...odds].sort((p, q) => p - q));
    expect(odds[3]).toBeGreaterThan(odds[0] + 1);
  });
});
