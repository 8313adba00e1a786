import { maskedMean } from '../raster/masked-mean.ts';
import type { EncodedRgbRaster } from '../raster/rgb-raster.ts';
import type { Segmentation } from '../segmentation/segmentation.ts';
import type { SurfaceView } from '../view-surface.ts';
import { CARD_UNLIKE_STEEL, greysOfCard, noiseOfGreys } from './card-noise.ts';
import { lightnessBandSquares, wellSurrounded } from './lightness-band.ts';
import type { Wavelengths } from './lightness-band.ts';
import { plainSteel } from './plain-steel.ts';
import { spreadWindows } from './spread-windows.ts';
import { usualSquare } from './usual-square.ts';
import type { Cells, UsualSquare } from './usual-square.ts';

export interface SegmentedView {
  readonly raster: EncodedRgbRaster;
  readonly view: SurfaceView;
  readonly segmentation: Segmentation;
}

export interface EvenBand extends Wavelengths {
  readonly cells: Cells;
  /**
   * How far the ratio of two textures in this band is from that in all of 0.5 to 5 mm, standard deviation of its logarithm:
   * what comparison sheets of the renderer show, rounded.
   */
  readonly unlikeWhole: number;
}

/**
 * Bands inside that of texture: long enough for a hand-held photo to show them, and cells small enough to lie beside pits. The
 * middle one tells most; a sharp photo adds the finest, and where blur and noise leave nothing of either, the coarsest has the
 * say. On even ground cells scatter as a gamma distribution (of shape 30, 15 and 12, with as much variance in each octave).
 */
export const EVEN_BANDS: readonly [EvenBand, EvenBand, EvenBand] = [
  {
    finestMm: 0.7,
    coarsestMm: 1.4,
    cells: { sideMm: 2.5, tenthOfEven: 0.773, usualOfEven: 0.987 },
    unlikeWhole: 0.2,
  },
  {
    finestMm: 1,
    coarsestMm: 2.2,
    cells: { sideMm: 2.5, tenthOfEven: 0.685, usualOfEven: 0.959 },
    unlikeWhole: 0.1,
  },
  {
    finestMm: 2.2,
    coarsestMm: 5,
    cells: { sideMm: 5, tenthOfEven: 0.656, usualOfEven: 0.944 },
    unlikeWhole: 0.25,
  },
];

/** So much plain steel is wished for, mm^2: about 160 of the smaller cells. Cells that residue reaches are left out anyway. */
const WISHED_MM2 = 1000;
/** Wavelength over which steel must have steel around it, mm: the coarsest of the two finer bands. */
const SURROUNDINGS_MM = 2.2;

/**
 * Texture of the even ground of the bare steel in each band (lightness, CIEDE2000 squared) less the photo's noise: for telling
 * patches of one photo apart, whose blur and sharpening are shared and not taken out. Cleaned pits and their light and shade,
 * which depend on the lamp more than on the finish, do not count, nor do rims of what was left.
 * @returns one for each band, null without a card, and where too little steel is bare
 */
export function evenTexture({ raster, view, segmentation }: SegmentedView): UsualSquare[] | null {
  const { located, normalisation, grid, lab, zone } = view;
  if (located === null || grid.unit !== 'mm') return null;
  const stepMm = grid.step;
  const windows = spreadWindows({ lab, codes: segmentation.codes, zone, stepMm });
  const mask = plainSteel(windows, WISHED_MM2);
  if (mask === null) return null;
  const seen = wellSurrounded(mask, SURROUNDINGS_MM, stepMm);
  const lightness = maskedMean(windows.lab.L.values, mask);
  const greys = greysOfCard({ photo: raster, located, normalisation, stepMm });
  const textures = EVEN_BANDS.map((band) => {
    const usual = usualSquare(lightnessBandSquares({ ...windows, mask }, band), seen, { ...band.cells, stepMm });
    if (usual === null) return null;
    const noise = noiseOfGreys(greys, (grey) => maskedMean(lightnessBandSquares(grey, band).values, grey.mask))(
      lightness,
    ).square;
    // What the greys tell wrong, they tell wrong of all patches; what differs from place to place is left.
    return { square: Math.max(0, usual.square - noise), sigma: Math.hypot(usual.sigma, CARD_UNLIKE_STEEL * noise) };
  });
  const known = textures.filter((texture) => texture !== null);
  return known.length === textures.length ? known : null;
}
