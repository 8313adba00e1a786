import { BAND_TREES } from './band-trees.ts';
import { BAND_SIGNS } from './band-signs.ts';
import type { BandSigns } from './band-signs.ts';
import { oddsOf } from './evidence-tree.ts';

/**
 * Log odds that a candidate's bands are streaks: a sum of small trees.
 * Source: gradient boosting of the logistic loss [FRIEDMAN2001]; fitted by models/train/streaks/fit-bands.py.
 */
export function weighBands(signs: BandSigns): number {
  const values = BAND_SIGNS.map((sign) => signs[sign]);
  return BAND_TREES.trees.reduce((sum, tree) => sum + oddsOf(tree, values), BAND_TREES.offset);
}
