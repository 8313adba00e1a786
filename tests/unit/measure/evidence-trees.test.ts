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
        2.1598, 0.3251, 0.1281, 0.2178, 2.3979, 2.4849, 0.1296, 1.0035, 2.0713, 2.2617, 2.2374, 0.1758, 2.3626, 4.3809,
        0.8793, 0.5147, 0.1751, 0.525, 0.1304, 0.6357, 0.0783, 0.1336, 1.2324, 0.2481, -5.5526, 1.0, 0.4205, 0.0064,
        0.0398, 0.0347,
      ],
    },
    {
      odds: -0.982,
      values: [
        3.9054, 0.6124, 0.6795, 0.5833, 2.8332, 4.0431, -0.5916, 0.2237, 2.5387, 3.7851, 4.4653, 0.2, 0.7205, 2.6001,
        0.8311, -1.0824, 0.2396, 0.475, -0.0131, -1.108, 0.2365, -0.013, 0.3128, -2.3026, 16.3069, 0.0, 0.4887, 0.0541,
        0.4287, 0.0125,
      ],
    },
    {
      odds: 0.5,
      values: [
        2.087, 0.3869, 0.5923, 0.6282, 2.7081, 2.6391, -0.5897, 0.0115, 2.4709, 2.5653, 3.2382, 0.1655, 1.8081, 3.3727,
        0.7752, 0.1955, 0.0424, 0.4, 0.8291, 0.1955, 0.0424, 0.8291, 1.4317, 2.445, -3.5081, 3.0, 0.5177, 0.1383,
        0.2326, 0.0,
      ],
    },
    {
      odds: 3.507,
      values: [
        6.1908, 0.9368, 0.9363, 0.8937, 2.8332, 2.5649, 1.2723, 0.0387, 2.7366, 2.3463, 2.3666, 0.0274, 2.2321, 3.7908,
        0.9191, 0.8722, 0.0462, 0.475, 0.9566, 0.8715, 0.0461, 0.9569, -0.3607, 2.3547, 6.5445, 2.0, 0.5832, 0.4458,
        0.3528, 0.0003,
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
