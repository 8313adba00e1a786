import { CLASS_CODE, fraction, measured } from '../../domain/index.ts';
import type { Appearance, Measured } from '../../domain/index.ts';
import type { LabPlanes } from '../colour/lab-planes.ts';
import { byteMask } from '../raster/plane.ts';
import type { ByteMask } from '../raster/plane.ts';
import { heatTintShare } from './heat-tint.ts';
import { tileTextures } from './texture-contrast.ts';
import type { TileTexture } from './texture-contrast.ts';

export interface AppearanceInput {
  readonly lab: LabPlanes;
  /** CLASS_CODE per pixel. */
  readonly codes: ByteMask;
  /** mm per pixel; null without a card, and then no band in mm can be judged. */
  readonly stepMm: number | null;
  /** Standard deviation of L* that the colour correction leaves. */
  readonly lightnessSigma: number;
  /** Texture that noise alone makes at a lightness, CIEDE2000; 0 when unknown. */
  readonly noiseAt: (lightness: number) => number;
}

const LEAST_BARE_SHARE = 0.01;
const LEAST_BARE_PIXELS = 400;
const Z = 1.96;
/** Student's t, 97.5 %, by degrees of freedom 1..10, then close to 2. Source: standard tables. */
const T_975 = [12.71, 4.3, 3.18, 2.78, 2.57, 2.45, 2.36, 2.31, 2.26, 2.23];

/** How the bare part looks: lightness, fine texture, heat tint. */
export function measureAppearance(input: AppearanceInput): Appearance {
  const heatTintFraction = fraction(heatTintShare(input.lab, input.codes));
  const bare = byteMask(input.codes.width, input.codes.height);
  let count = 0;
  let total = 0;
  let sum = 0;
  for (let i = 0; i < bare.values.length; i++) {
    if (input.codes.values[i] !== 0) total++;
    if (input.codes.values[i] !== CLASS_CODE.bare) continue;
    bare.values[i] = 1;
    count++;
    sum += input.lab.L.values[i];
  }
  if (count < LEAST_BARE_PIXELS || count < LEAST_BARE_SHARE * total) {
    return { lightness: null, textureContrast: null, heatTintFraction };
  }
  const mean = sum / count;
  const spread = Z * input.lightnessSigma;
  const lightness = measured(mean, mean - spread, mean + spread);
  if (input.stepMm === null) return { lightness, textureContrast: null, heatTintFraction };
  const tiles = tileTextures({ lab: input.lab, mask: bare, stepMm: input.stepMm });
  return { lightness, textureContrast: textureOf(tiles, input.noiseAt(mean)), heatTintFraction };
}

/** Pixel-weighted mean square over the tiles less the noise's, with an interval from the scatter of the tiles. */
function textureOf(tiles: readonly TileTexture[], noise: number): Measured | null {
  if (tiles.length === 0) return null;
  const weight = tiles.reduce((total, tile) => total + tile.pixels, 0);
  const square = tiles.reduce((total, tile) => total + tile.pixels * tile.contrast ** 2, 0) / weight;
  const value = Math.sqrt(Math.max(0, square - noise * noise));
  const scatter = tiles.reduce((total, tile) => total + tile.pixels * (tile.contrast ** 2 - square) ** 2, 0) / weight;
  const effective = weight ** 2 / tiles.reduce((total, tile) => total + tile.pixels ** 2, 0);
  const freedom = Math.max(1, Math.floor(effective) - 1);
  const student = T_975[freedom - 1] ?? 2.1;
  // One tile says nothing about scatter: half the value stands in.
  const sigma = effective < 1.5 ? square / 2 : Math.sqrt(scatter / Math.max(1, effective - 1));
  const half = effective < 1.5 ? sigma : student * sigma;
  const floor = noise * noise * 0.2;
  return measured(
    value,
    Math.sqrt(Math.max(0, square - noise * noise - half - floor)),
    Math.sqrt(Math.max(0, square - noise * noise) + half + floor),
  );
}
