import { describe, expect, it } from 'vitest';
import { BAND_SIGNS } from '../../../server/measure/streaks/bands/band-signs.ts';
import { BAND_TREES } from '../../../server/measure/streaks/bands/band-trees.ts';
import { weighByTrees } from '../../../server/measure/evidence-trees.ts';
import { WAVE_SIGNS } from '../../../server/measure/streaks/waves/wave-signs.ts';
import { WAVE_TREES } from '../../../server/measure/streaks/waves/wave-trees.ts';

describe('weighing by trees', () => {
  // By hand: the first question alone is true at the left, and its way leads to the first or the last leaf.
  it('adds the odds of the leaf that the answers lead to', () => {
    const tree = {
      offset: 0.5,
      sign: [0, 0, 0, 0, 0, 0, 0],
      most: [1, 1, 1, 1, 1, 1, 1],
      odds: [-1, 9, 9, 9, 9, 9, 9, 2],
    };
    expect(weighByTrees(tree, [1])).toBe(-0.5);
    expect(weighByTrees(tree, [1.01])).toBe(2.5);
  });

  it.each([
    { name: 'bands', trees: BAND_TREES, signs: BAND_SIGNS },
    { name: 'waves', trees: WAVE_TREES, signs: WAVE_SIGNS },
  ])('asks whole trees of three questions about signs of $name that are there', ({ trees, signs }) => {
    expect(trees.most.length).toBe(trees.sign.length);
    expect(trees.sign.length % 7).toBe(0);
    expect(trees.odds.length / 8).toBe(trees.sign.length / 7);
    expect(trees.sign.every((place) => place >= 0 && place < signs.length)).toBe(true);
  });

  // Reference library: decision_function of scikit-learn 1.9.1's HistGradientBoostingClassifier with the same trees.
  it.each([
    {
      odds: -4.001,
      values: [
        1.6288, 0.1868, 0.1351, 0.073, 2.6391, 2.6391, 1.0402, 1.4868, 2.3351, 2.3317, 2.2002, 0.2326, 2.6796, 3.9767,
        0.6187, 1.848, 0.0476, 0.425, 0.3898, 0.5169, 0.1269, -0.0798, 0.4994, 0.3215, -3.9275, 0.0, 0.5662, -1.0, -1.0,
        0.2033,
      ],
    },
    {
      odds: -0.999,
      values: [
        1.6901, 0.5301, 0.4693, 0.4221, 1.3863, 1.3863, 1.6476, 1.799, 1.2907, 0.9248, 1.167, 0.0945, 3.2203, 4.6966,
        1.0, 1.4733, 0.1062, 0.425, -0.2018, 0.3289, 0.2513, -0.1868, 0.4382, 0.639, -3.077, 1.0, 0.5279, 0.0635,
        0.2772, 0.3217,
      ],
    },
    {
      odds: 0.494,
      values: [
        3.1201, 0.6821, 0.0855, 0.7033, 2.3979, 2.1972, 0.2365, 0.0107, 2.0531, 1.7926, 1.8006, 0.0543, 2.8103, 4.7037,
        0.7883, 0.0706, 0.1134, 0.4, -0.0221, 0.0529, 0.0799, 0.3809, 0.8917, 2.4818, 0.3989, 1.0, 0.4526, 0.2063,
        0.1896, 0.0738,
      ],
    },
    {
      odds: 3.498,
      values: [
        5.3424, 0.8508, 0.8832, 0.8743, 2.4849, 2.5649, 1.4008, 0.015, 1.8241, 2.25, 2.284, 0.0393, 2.8539, 4.8266, 1.0,
        1.9059, 0.0038, 0.5, 0.9757, 1.9059, 0.0038, 0.9757, 0.5912, 2.7047, -4.4144, 0.0, 0.551, 0.0836, 0.0841, 0.0,
      ],
    },
  ])('gives the log odds of a wave that the reference library gives: $odds', ({ odds, values }) => {
    expect(weighByTrees(WAVE_TREES, values)).toBeCloseTo(odds, 2);
  });
});
