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
        0.5613, 1.2268, 0.0, 0.7706, 0.3776, 0.6287, 0.0378, 0.32, 0.04, 2.3026, 2.5649, 1.7918, 2.0316, 1.2, -0.0003,
        0.3, 0.7134, 0.8217, 0.9489, 0.7603, 0.0, 0.0, 0.0011, 0.0038, 0.0002,
      ],
    },
    {
      odds: -1.0,
      values: [
        0.7848, 1.6922, 2.0, 0.7405, -0.69, 0.5709, 0.3122, 0.4711, 0.24, 2.3979, 2.7081, 1.7918, 0.8124, 1.1567,
        0.0016, 0.3, 0.8193, 0.2477, 0.5217, 0.679, 0.0, 1.0, 0.0547, 0.3129, 0.2571,
      ],
    },
    {
      odds: 0.999,
      values: [
        0.8265, 2.3341, 1.0, 0.7146, -0.0016, 0.6747, 0.2781, 0.4682, 0.2483, 1.7918, 1.9459, 1.6094, 1.2207, 0.9471,
        0.0002, 0.0115, 0.2116, 0.6382, 0.8083, 0.7428, 0.0, 1.0, 0.3212, 0.3466, 0.017,
      ],
    },
    {
      odds: 3.5,
      values: [
        0.4039, 4.5779, 3.0, 0.8203, 1.2335, 0.8571, 0.9096, 0.1841, 0.0337, 1.0986, 1.0986, 0.6931, 3.5992, 1.0625,
        0.3273, 0.3, 0.0, 2.0025, 2.0794, 1.0, 0.0, 4.0, 0.6179, 0.3606, 0.1932,
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
