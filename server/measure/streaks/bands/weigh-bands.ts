import { weighByTrees } from '../../evidence-trees.ts';
import { BAND_TREES } from './band-trees.ts';
import { BAND_SIGNS } from './band-signs.ts';
import type { BandSigns } from './band-signs.ts';

/** Log odds that a candidate's bands are streaks. */
export const weighBands = (signs: BandSigns): number =>
  weighByTrees(
    BAND_TREES,
    BAND_SIGNS.map((sign) => signs[sign]),
  );
