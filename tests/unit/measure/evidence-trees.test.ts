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
      odds: -4.466,
      values: [
        1.772, 0.298, 0.21, 0.067, 2.398, 2.398, 0.757, 0.249, 2.083, 2.089, 2.119, 0.17, 2.896, 4.482, 0.768, 1.47,
        0.276, 0.5, 0.727, -2.303, 1.0, 0.0, 0.015, 1.511, -4.107, 0.0, 0.426,
      ],
    },
    {
      odds: -2.005,
      values: [
        2.312, 0.315, 0.284, 0.276, 1.946, 1.946, 1.374, 1.027, 1.493, 1.478, 1.371, 0.163, 3.141, 4.796, 0.707, 1.751,
        0.194, 0.65, 0.301, 0.976, 0.115, 0.207, 0.375, 1.432, -3.039, 4.0, 0.468,
      ],
    },
    {
      odds: 0.891,
      values: [
        3.308, 0.625, 0.624, 0.594, 2.639, 3.932, -1.197, 0.026, 2.275, 3.696, 4.591, 0.118, 0.485, 2.039, 0.89, -0.275,
        0.148, 0.425, 0.124, -0.199, 0.118, 0.465, 2.127, -2.303, -4.812, 2.0, 0.622,
      ],
    },
    {
      odds: 3.996,
      values: [
        4.013, 0.966, 0.951, 0.93, 2.639, 2.639, 0.818, 0.008, 2.365, 2.335, 3.037, 0.034, 2.07, 3.42, 1.0, 2.157,
        0.058, 0.325, 0.957, 1.492, 0.1, 0.982, 0.415, 3.699, 1.388, 4.0, 0.34,
      ],
    },
  ])('gives the log odds of a wave that the reference library gives: $odds', ({ odds, values }) => {
    expect(weighByTrees(WAVE_TREES, values)).toBeCloseTo(odds, 2);
  });
});
