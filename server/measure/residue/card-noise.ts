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
import { textureOfAll } from './texture-contrast.ts';

export interface NoiseSource {
  readonly photo: EncodedRgbRaster;
  readonly located: LocatedCard;
  readonly normalisation: ColourNormalisation;
  readonly stepMm: number;
}

/** Part of a patch, on each side, that is looked at: away from its edges. */
const INNER_PART = 0.7;

/**
 * Texture that the photo itself makes (noise, compression, print grain): what the card's flat greys show in the same band
 * and on the same raster as the surface. The grey nearest in lightness answers.
 */
export function cardNoise(source: NoiseSource): (lightness: number) => number {
  const { located } = source;
  const greys = located.card.patches.filter((patch) => patch.family === 'neutral');
  const seen = greys.flatMap((patch) => {
    const contrast = patchTexture(source, patch);
    return contrast === null ? [] : [{ L: patch.nominal.lab.L, contrast }];
  });
  return (lightness) => {
    if (seen.length === 0) return 0;
    const nearest = Math.min(...seen.map((grey) => Math.abs(grey.L - lightness)));
    const alike = seen.filter((grey) => Math.abs(grey.L - lightness) < nearest + 1).map((grey) => grey.contrast);
    // The least of equal greys: dirt and glare only add.
    return Math.min(...alike);
  };
}

function patchTexture({ photo, located, normalisation, stepMm }: NoiseSource, patch: CardPatch): number | null {
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
  const lab = linearRasterToLabD50(applyNormalisation(light, grid, normalisation));
  return textureOfAll({ lab, mask, stepMm }).contrast;
}
