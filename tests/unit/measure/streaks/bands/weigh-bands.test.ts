import { describe, expect, it } from 'vitest';
import { BAND_SIGNS } from '../../../../../server/measure/streaks/bands/band-signs.ts';
import type { BandSigns } from '../../../../../server/measure/streaks/bands/band-signs.ts';
import { weighBands } from '../../../../../server/measure/streaks/bands/weigh-bands.ts';

const signsOf = (values: readonly number[]): BandSigns =>
  Object.fromEntries(BAND_SIGNS.map((sign, k) => [sign, values[k]])) as BandSigns;

describe('weighing bands', () => {
  // Reference library: decision function of scikit-learn 1.9.1's HistGradientBoostingClassifier.
  it.each([
    {
      odds: -4.0,
      values: [
        0.6853, 1.167, 0.0, 0.7877, -2.3026, 0.0, 0.1361, 0.5458, 0.08, 1.9459, 2.3026, 1.6094, 1.1017, 0.6085, 0.2932,
        0.1312, 0.6994, 1.3952, 2.0794, 0.622, 0.0, 2.0, -0.0642, 0.1216, 0.4243,
      ],
    },
    {
      odds: -1.0,
      values: [
        0.651, 1.7305, 1.0, 0.766, -2.3026, 0.1051, 0.1647, 0.3257, 0.24, 2.3026, 2.4849, 1.7918, 0.6898, 1.2, 0.2887,
        0.2694, 0.4583, 0.746, 1.1306, 0.657, 0.0, 2.0, 0.1979, 0.3434, 0.0099,
      ],
    },
    {
      odds: 1.0,
      values: [
        0.0, 3.3615, 1.0, 0.8237, 1.6545, 1.0, 0.4951, 0.0273, 0.11, 0.6931, 0.6931, 0.6931, 2.7833, 1.0712, 0.1003,
        0.3, 0.0, 1.6744, 1.6974, 1.0, 0.0, 1.0, 0.0785, 0.0148, 0.0,
      ],
    },
    {
      odds: 3.5,
      values: [
        0.1637, 3.3527, 1.0, 0.9065, 1.4421, 1.0, 0.8098, 0.3805, 0.0605, 1.6094, 1.6094, 1.0986, 2.3629, 1.1064,
        -0.0052, 0.0944, 0.3069, 1.6318, 1.7901, 1.0, 1.0, 0.0, 0.2752, 0.1589, 0.0133,
      ],
    },
  ])('gives the log odds of the reference library: $odds', ({ odds, values }) => {
    expect(weighBands(signsOf(values))).toBeCloseTo(odds, 2);
  });

  it('finds more that speaks for a band the clearer it is of the unrest of the ground, and the more it lacked dwell', () => {
    const clear = signsOf([
      0.1637, 3.3527, 1.0, 0.9065, 1.4421, 1.0, 0.8098, 0.3805, 0.0605, 1.6094, 1.6094, 1.0986, 2.3629, 1.1064, -0.0052,
      0.0944, 0.3069, 1.6318, 1.7901, 1.0, 1.0, 0.0, 0.2752, 0.1589, 0.0133,
    ]);
    const isRising = (odds: readonly number[]): void => {
      expect(odds).toEqual([...odds].sort((p, q) => p - q));
      expect(odds[3]).toBeGreaterThan(odds[0] + 0.5);
    };
    isRising([1.5, 1, 0.5, 0].map((unrest) => weighBands({ ...clear, unrest })));
    isRising([0, 0.1, 0.4, 0.8].map((dwellRise) => weighBands({ ...clear, dwellRise })));
  });
});
