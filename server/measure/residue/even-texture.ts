import { maskedMean } from '../raster/masked-mean.ts';
import type { EncodedRgbRaster } from '../raster/rgb-raster.ts';
import type { Segmentation } from '../segmentation/segmentation.ts';
import type { SurfaceView } from '../view-surface.ts';
import { CARD_UNLIKE_STEEL, cardNoise } from './card-noise.ts';
import { fineLightnessSquares } from './fine-lightness.ts';
import { plainSteel } from './plain-steel.ts';
import { spreadWindows } from './spread-windows.ts';
import type { TexturedArea } from './texture-contrast.ts';
import { usualSquare } from './usual-square.ts';
import type { UsualSquare } from './usual-square.ts';

export interface SegmentedView {
  readonly raster: EncodedRgbRaster;
  readonly view: SurfaceView;
  readonly segmentation: Segmentation;
}

/** So much plain steel is wished for, mm^2: about 160 cells of it. Nearer to residue the cells that it reaches are left out anyway. */
const WISHED_MM2 = 1000;

/**
 * Fine texture (1 to 2.2 mm, lightness) of the even ground of the bare steel less the photo's noise, CIEDE2000 squared: for
 * telling patches of one photo apart, whose blur and sharpening are shared and not taken out. Cleaned pits and their light and
 * shade, which depend on the lamp more than on the finish, do not count, nor do rims of what was left.
 * @returns null without a card, and where too little steel is bare
 */
export function evenTexture({ raster, view, segmentation }: SegmentedView): UsualSquare | null {
  const { located, normalisation, grid, lab, zone } = view;
  if (located === null || grid.unit !== 'mm') return null;
  const windows = spreadWindows({ lab, codes: segmentation.codes, zone, stepMm: grid.step });
  const mask = plainSteel(windows, WISHED_MM2);
  if (mask === null) return null;
  const usual = usualSquare(fineLightnessSquares({ ...windows, mask }), mask, grid.step);
  if (usual === null) return null;
  const noiseAt = cardNoise({ photo: raster, located, normalisation, stepMm: grid.step }, meanFineSquare);
  const noise = noiseAt(maskedMean(windows.lab.L.values, mask)).square;
  // What the greys tell wrong, they tell wrong of all patches; what differs from place to place is left.
  return { square: Math.max(0, usual.square - noise), sigma: Math.hypot(usual.sigma, CARD_UNLIKE_STEEL * noise) };
}

const meanFineSquare = (area: TexturedArea): number => maskedMean(fineLightnessSquares(area).values, area.mask);
