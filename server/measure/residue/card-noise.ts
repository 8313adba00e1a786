import type { CardPatch } from '../../domain/index.ts';
import { surfacePoint } from '../../domain/index.ts';
import type { LocatedCard } from '../card/locate-card.ts';
import { applyNormalisation } from '../colour/apply-normalisation.ts';
import { linearRasterToLabD50 } from '../colour/lab-planes.ts';
import { responseTables } from '../colour/normalise-colour.ts';
import type { ColourNormalisation } from '../colour/normalise-colour.ts';
import { rectifyPhoto } from '../geometry/rectify-photo.ts';
import { layGrid } from '../geometry/surface-grid.ts';
import { byteMask } from '../raster/plane.ts';
import type { EncodedRgbRaster } from '../raster/rgb-raster.ts';
import { fitNoiseCurve } from './noise-curve.ts';
import { textureOf } from './texture-contrast.ts';
import type { TexturedArea } from './texture-contrast.ts';

export interface NoiseSource {
  readonly photo: EncodedRgbRaster;
  readonly located: LocatedCard;
  readonly normalisation: ColourNormalisation;
  readonly stepMm: number;
}

/** Part of a patch, on each side, that is looked at: away from its edges. */
const INNER_PART = 0.7;

/** What the photo adds to the texture of a surface, as mean square, CIEDE2000 squared. */
export interface TextureNoise {
  readonly square: number;
  /** Standard deviation of `square`: how well the greys tell it. */
  readonly sigma: number;
}

export const NO_NOISE: TextureNoise = { square: 0, sigma: 0 };

/** What the card's paper and print may differ from the surface in noise, as part of it. Chosen by us. */
const CARD_UNLIKE_STEEL = 0.05;

/** Texture that the photo itself makes, in the whole band of texture. */
export const cardNoise = (source: NoiseSource): ((lightness: number) => TextureNoise) =>
  noiseOfGreys(greysOfCard(source), (grey) => textureOf(grey)?.square ?? null);

/** The card's flat greys on the raster of the surface; those that cannot be measured throughout are left out. */
export const greysOfCard = (source: NoiseSource): TexturedArea[] =>
  source.located.card.patches
    .filter((patch) => patch.family === 'neutral')
    .map((patch) => rectifiedGrey(source, patch))
    .filter((grey) => grey !== null);

/**
 * Texture that the photo itself makes (noise, compression, print grain): what the card's flat greys show in the same band
 * and on the same raster as the surface, as a smooth curve over their lightness.
 * @param squareOf how texture is measured: on the greys as on the surface
 */
export function noiseOfGreys(
  greys: readonly TexturedArea[],
  squareOf: (grey: TexturedArea) => number | null,
): (lightness: number) => TextureNoise {
  const curve = fitNoiseCurve(
    greys.flatMap((grey) => {
      const square = squareOf(grey);
      return square === null ? [] : [{ lightness: meanLightness(grey), square }];
    }),
  );
  if (curve === null) return () => NO_NOISE;
  return (lightness) => {
    const square = curve.squareAt(lightness);
    return { square, sigma: square * Math.hypot(curve.relativeSigma, CARD_UNLIKE_STEEL) };
  };
}

function meanLightness({ lab }: TexturedArea): number {
  const { values } = lab.L;
  return values.reduce((sum, v) => sum + v, 0) / values.length;
}

function rectifiedGrey({ photo, located, normalisation, stepMm }: NoiseSource, patch: CardPatch): TexturedArea | null {
  const { x, y, width, height } = patch.area;
  const [cx, cy, w, h] = [x + width / 2, y + height / 2, (width * INNER_PART) / 2, (height * INNER_PART) / 2];
  const polygon = [
    surfacePoint(cx - w, cy - h),
    surfacePoint(cx + w, cy - h),
    surfacePoint(cx + w, cy + h),
    surfacePoint(cx - w, cy + h),
  ];
  const grid = layGrid(polygon, 'mm', stepMm, Infinity);
  const mask = byteMask(grid.width, grid.height);
  mask.values.fill(1);
  const tables = responseTables(normalisation, photo.maxCode);
  const { light, blocked } = rectifyPhoto(photo, grid, { map: located.map, mask, tables });
  if (blocked.values.some((code) => code !== 0)) return null;
  return { lab: linearRasterToLabD50(applyNormalisation(light, grid, normalisation)), mask, stepMm };
}
