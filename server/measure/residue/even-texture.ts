import { CLASS_CODE } from '../../domain/index.ts';
import { maskedMean } from '../raster/masked-mean.ts';
import type { ByteMask } from '../raster/plane.ts';
import type { EncodedRgbRaster } from '../raster/rgb-raster.ts';
import { codesOfKnownColour } from '../segmentation/segmentation.ts';
import type { Segmentation } from '../segmentation/segmentation.ts';
import type { SurfaceView } from '../view-surface.ts';
import { greysOfCard, noiseOfGreys } from './card-noise.ts';
import { evenGround } from './even-ground.ts';
import type { Cells } from './even-ground.ts';
import { lightnessBandSquares, wellSurrounded } from './lightness-band.ts';
import type { Wavelengths } from './lightness-band.ts';
import { plainSteel } from './plain-steel.ts';
import { spreadWindows } from './spread-windows.ts';

export interface SegmentedView {
  readonly raster: EncodedRgbRaster;
  readonly view: SurfaceView;
  readonly segmentation: Segmentation;
}

interface EvenBand extends Wavelengths {
  readonly cells: Cells;
}

/**
 * Bands inside that of texture: long enough for a hand-held photo to show them, and cells small enough to lie beside pits. On
 * even ground cells scatter as a gamma distribution (of shape 30, 15 and 12, with as much variance in each octave).
 */
export const EVEN_BANDS: readonly [EvenBand, EvenBand, EvenBand] = [
  { finestMm: 0.7, coarsestMm: 1.4, cells: { sideMm: 2.5, tenthOfEven: 0.773, usualOfEven: 0.987 } },
  { finestMm: 1, coarsestMm: 2.2, cells: { sideMm: 2.5, tenthOfEven: 0.685, usualOfEven: 0.959 } },
  { finestMm: 2.2, coarsestMm: 5, cells: { sideMm: 5, tenthOfEven: 0.656, usualOfEven: 0.944 } },
];

/** So much plain steel is wished for, mm^2: about 160 of the smaller cells. Cells that residue reaches are left out anyway. */
const WISHED_MM2 = 1000;
/** Wavelength over which steel must have steel around it, mm: the coarsest of the two finer bands. */
const SURROUNDINGS_MM = 2.2;

export interface BandTexture {
  /** Mean square in lightness as the photo shows it, its noise with it, CIEDE2000 squared. */
  readonly square: number;
  /** What the photo's noise makes of that, as the card's greys show it. */
  readonly noise: number;
}

/** Texture of the plain steel of a patch as its photo shows it, and what else of the patch tells how to take that. */
export interface EvenTexture {
  /** One for each of EVEN_BANDS. */
  readonly bands: readonly BandTexture[];
  /** Logarithm, in the finest band: see EvenGround. */
  readonly unevenness: number;
  /** Cells in the finest band. */
  readonly cells: number;
  /** Part of the bare steel that lies plain, away from what is not bare; more than none. */
  readonly plainPart: number;
  /** Part of what was measured. */
  readonly stainPart: number;
  /** L* of the plain steel. */
  readonly lightness: number;
  /** How soft an edge is where the patch lies: standard deviation, mm. */
  readonly blurMm: number;
}

/** @returns null without a card, and where too little steel is bare */
export function evenTexture({ raster, view, segmentation }: SegmentedView): EvenTexture | null {
  const { located, normalisation, grid, lab, zone, placed, edgeBlurPx } = view;
  if (located === null || grid.unit !== 'mm') return null;
  const stepMm = grid.step;
  const windows = spreadWindows({ lab, codes: codesOfKnownColour(segmentation), zone, stepMm });
  const mask = plainSteel(windows, WISHED_MM2);
  if (mask === null) return null;
  const seen = wellSurrounded(mask, SURROUNDINGS_MM, stepMm);
  const lightness = maskedMean(windows.lab.L.values, mask);
  const greys = greysOfCard({ photo: raster, located, normalisation, stepMm });
  const grounds = EVEN_BANDS.map((band) =>
    evenGround(lightnessBandSquares({ ...windows, mask }, band), seen, { ...band.cells, stepMm }),
  );
  const known = grounds.filter((ground) => ground !== null);
  if (known.length < grounds.length) return null;
  const noiseIn = (band: Wavelengths): number =>
    noiseOfGreys(greys, (grey) => maskedMean(lightnessBandSquares(grey, band).values, grey.mask))(lightness).square;
  return {
    bands: known.map(({ square }, k) => ({ square, noise: noiseIn(EVEN_BANDS[k]) })),
    unevenness: known[0].unevenness,
    cells: known[0].cells,
    plainPart: countOf(mask, 1) / countOf(windows.codes, CLASS_CODE.bare),
    stainPart: partOf(segmentation.codes, CLASS_CODE.stain),
    lightness,
    blurMm: (edgeBlurPx ?? 0) / placed.pxPerUnit,
  };
}

const countOf = ({ values }: ByteMask, code: number): number =>
  values.reduce((count, value) => (value === code ? count + 1 : count), 0);

/** Of the pixels that have a class. */
const partOf = (codes: ByteMask, code: number): number =>
  countOf(codes, code) / Math.max(1, codes.values.length - countOf(codes, 0));
