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
        0.0, 1.4792, 1.0, 0.8383, -2.3026, 0.0, 0.096, 0.0203, 0.0685, 0.6931, 0.6931, 0.6931, 1.5934, 0.38, 0.3185,
        0.3, 0.0, 1.7996, 2.0794, 1.0, 0.0, 3.0, 0.0075, 0.026, 0.0283,
      ],
    },
    {
      odds: -0.999,
      values: [
        0.6152, 2.3011, 1.0, 0.7279, -2.3026, 0.0, 0.6341, 0.0623, 0.6955, 0.6931, 1.0986, 0.6931, 1.4902, 0.8, 0.0794,
        0.3, 0.0, -1.5315, 1.4433, 1.0, 0.0, 3.0, -1.0, -1.0, 0.3638,
      ],
    },
    {
      odds: 1.0,
      values: [
        0.0, 3.3844, 2.0, 0.7411, -2.3026, 0.0, 0.5403, 0.0503, 0.0563, 1.0986, 1.7918, 0.6931, 1.2034, 1.0447, 0.0913,
        0.3, 0.0, -0.407, 1.9671, 0.6667, 0.0, 3.0, 0.1622, 0.0527, 0.106,
      ],
    },
    {
      odds: 3.5,
      values: [
        0.0, 1.3012, 3.0, 0.9313, 0.6217, 0.5241, 0.4596, 0.2422, 0.3836, 1.0986, 1.0986, 1.0986, 2.8547, 1.0612,
        0.4948, 0.0, 0.2691, 0.8488, 2.0794, 0.8851, 0.0, 3.0, 0.7615, 0.2868, 0.1044,
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
