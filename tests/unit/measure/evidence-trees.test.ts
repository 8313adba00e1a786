import { describe, expect, it } from 'vitest';
import { BAND_SIGNS } from '../../../server/measure/streaks/bands/band-signs.ts';
import { BAND_TREES } from '../../../server/measure/streaks/bands/band-trees.ts';
import { weighByTrees } from '../../../server/measure/evidence-trees.ts';
import { TEXTURE_TREES } from '../../../server/measure/residue/texture-trees.ts';
import { WAVE_SIGNS } from '../../../server/measure/streaks/waves/wave-signs.ts';
import { WAVE_TREES } from '../../../server/measure/streaks/waves/wave-trees.ts';

describe('weighing by trees', () => {
  // By hand: the first question alone is true at the left, and its way leads to the first or the last leaf.
  it('adds the odds of the leaf that the answers lead to', () => {
    const tree = {
      offset: 0.5,
      depth: 3,
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
    { name: 'textures', trees: TEXTURE_TREES, signs: { length: 11 } },
  ])('asks whole trees about signs of $name that are there', ({ trees, signs }) => {
    const answers = 2 ** trees.depth;
    expect(trees.most.length).toBe(trees.sign.length);
    expect(trees.sign.length % (answers - 1)).toBe(0);
    expect(trees.odds.length / answers).toBe(trees.sign.length / (answers - 1));
    expect(trees.sign.every((place) => place >= 0 && place < signs.length)).toBe(true);
  });

  // Reference library: decision_function of scikit-learn 1.9.1's HistGradientBoostingClassifier with the same trees.
  it.each([
    {
      odds: -4.0,
      values: [
        1.7917, 0.3004, 0.3932, 0.3468, 1.9459, 1.7918, 0.4034, 0.0609, 1.3858, 1.22, 1.196, 0.0752, 3.2415, 4.1122,
        0.7033, 1.9007, 0.0727, 0.45, -0.1858, 0.0008, 0.3084, -0.3574, -2.3026, 0.4484, -2.7482, 2.0, 0.4824, -1.0,
        -1.0, 0.1325,
      ],
    },
    {
      odds: -1.0,
      values: [
        1.2506, 0.0999, 0.2099, 0.2109, 2.9957, 3.8067, -1.3342, 0.1232, 2.5272, 2.8734, 3.5639, 0.2037, 0.922, 2.2908,
        0.5264, 0.9596, 0.0824, 0.425, 0.4764, -0.3223, 0.3115, 0.2626, 3.9307, 0.2892, -4.9173, 1.0, 0.6523, -1.0,
        -1.0, 0.0164,
      ],
    },
    {
      odds: 0.51,
      values: [
        1.4508, 0.9375, 0.5365, 0.3234, 2.5649, 2.6391, -0.0952, 0.7683, 2.252, 1.6092, 1.3004, 0.0758, 2.7228, 4.3523,
        0.526, 0.7648, 0.0482, 0.475, -0.1745, -0.2728, 0.1275, -0.1744, 1.6009, 0.0009, -3.4535, 3.0, 0.5957, 0.0547,
        0.4938, 0.0833,
      ],
    },
    {
      odds: 3.501,
      values: [
        2.3587, 0.9756, 0.7486, 0.6422, 1.9459, 1.9459, 1.4171, 0.0628, 1.7983, 1.2764, 1.2711, 0.0412, 3.3146, 4.8126,
        0.8239, 1.0734, 0.0672, 0.475, 0.889, 1.0734, 0.0672, 0.889, -2.3026, 0.2792, 1.1328, 1.0, 0.3995, 0.5284,
        0.3992, 0.0001,
      ],
    },
  ])('gives the log odds of a wave that the reference library gives: $odds', ({ odds, values }) => {
    expect(weighByTrees(WAVE_TREES, values)).toBeCloseTo(odds, 2);
  });

  // Reference library: predict of scikit-learn 1.9.1's GradientBoostingRegressor with the same trees.
  it.each([
    { apart: -0.3997, values: [-1.315, -0.9738, -0.6265, 0.1187, -0.0478, 0.0, 12.3783, 0.0, 0.039, 0.1802, 0.392] },
    { apart: -0.0996, values: [-0.5477, -0.3921, -0.5324, -0.8949, 1.0479, -0.0013, 7.9373, 0.0, 0.0, 0.0, 0.2199] },
    { apart: 0.05, values: [-0.1336, 0.1171, 0.7286, 0.1409, -0.0262, 0.0, -11.0832, 0.0, -0.003, 0.128, 0.1254] },
    { apart: 0.2999, values: [0.515, 0.6851, 0.9832, -0.0341, -0.4419, 0.0002, -0.4253, 0.0, -0.0129, 0.1821, 0.5682] },
  ])('tells textures apart as the reference library does: $apart', ({ apart, values }) => {
    expect(weighByTrees(TEXTURE_TREES, values)).toBeCloseTo(apart, 2);
  });
});
