import { ciede2000Metric } from '../colour/ciede2000.ts';
import type { LabPlanes } from '../colour/lab-planes.ts';
import { boxMean } from '../raster/box-mean.ts';
import { byteMask, plane } from '../raster/plane.ts';
import type { ByteMask, Plane } from '../raster/plane.ts';

/** Texture of one tile: rms CIEDE2000 about the smoothed surface, and how many pixels it rests on. */
export interface TileTexture {
  readonly contrast: number;
  readonly pixels: number;
}

export interface TextureTiling {
  readonly lab: LabPlanes;
  /** Pixels that count (1): the bare part. */
  readonly mask: ByteMask;
  readonly stepMm: number;
}

/** Coarsest wavelength of the band, mm; the finest, 0.5 mm, is what the working raster of 0.25 mm just holds. */
const COARSEST_MM = 5;
/** A Gaussian of this sigma, in wavelengths, passes half the amplitude: sqrt(ln 2 / 2) / pi. */
const HALF_AMPLITUDE_SIGMA = Math.sqrt(Math.LN2 / 2) / Math.PI;
const TILE_MM = 24;
const MOST_TILES = 24;
const LEAST_BARE_SHARE = 0.15;

/**
 * Texture in the 0.5-5 mm band, tile by tile over up to 24 tiles spread over the mask: the surface less its smoothed self
 * (smoothed inside the mask only, so that residue beside it does not leak in), measured by the local CIEDE2000 metric at
 * the tile's mean colour.
 */
export function tileTextures(tiling: TextureTiling): TileTexture[] {
  const side = Math.max(16, Math.round(TILE_MM / tiling.stepMm));
  const origins = tileOrigins(tiling.mask, side);
  const stride = Math.max(1, origins.length / MOST_TILES);
  const chosen = Array.from(
    { length: Math.min(MOST_TILES, origins.length) },
    (_, i) => origins[Math.floor(i * stride)],
  );
  return chosen.map((origin) => tileTexture(tiling, origin, side));
}

/** Texture of all that the mask holds, as one tile however small it is. */
export const textureOfAll = (tiling: TextureTiling): TileTexture =>
  tileTexture(tiling, [0, 0], Math.max(tiling.mask.width, tiling.mask.height));

type Origin = readonly [left: number, top: number];

function tileOrigins(mask: ByteMask, side: number): Origin[] {
  const found: Origin[] = [];
  for (let top = 0; top < mask.height; top += side) {
    for (let left = 0; left < mask.width; left += side) {
      let count = 0;
      for (let row = top; row < Math.min(top + side, mask.height); row++) {
        const start = row * mask.width;
        for (let column = left; column < Math.min(left + side, mask.width); column++) {
          if (mask.values[start + column] !== 0) count++;
        }
      }
      if (count >= LEAST_BARE_SHARE * side * side) found.push([left, top]);
    }
  }
  return found;
}

function tileTexture({ lab, mask, stepMm }: TextureTiling, [left, top]: Origin, side: number): TileTexture {
  const width = Math.min(side, mask.width - left);
  const height = Math.min(side, mask.height - top);
  const inside = byteMask(width, height);
  const planes = [lab.L, lab.a, lab.b].map((source) => cut(source, { left, top, width, height }));
  let pixels = 0;
  for (let row = 0; row < height; row++) {
    for (let column = 0; column < width; column++) {
      if (mask.values[(top + row) * mask.width + left + column] === 0) continue;
      inside.values[row * width + column] = 1;
      pixels++;
    }
  }
  const radius = smoothingRadius(stepMm);
  const means = planes.map(({ values }) => values.reduce((sum, v, i) => sum + v * inside.values[i], 0) / pixels);
  const [dL, da, db] = planes.map((p) => {
    // Two box means make nearly a Gaussian.
    const smooth = boxMean(boxMean(p, inside, radius), inside, radius);
    return p.values.map((value, i) => value - smooth.values[i]);
  });
  const G = ciede2000Metric({ L: means[0], a: means[1], b: means[2] });
  let sum = 0;
  for (let i = 0; i < dL.length; i++) {
    if (inside.values[i] === 0) continue;
    sum += G[0] * dL[i] * dL[i] + G[4] * da[i] * da[i] + G[8] * db[i] * db[i];
    sum += 2 * (G[1] * dL[i] * da[i] + G[2] * dL[i] * db[i] + G[5] * da[i] * db[i]);
  }
  return { contrast: Math.sqrt(Math.max(0, sum) / Math.max(1, pixels)), pixels };
}

/** Radius of a box that, applied twice, has the variance of the Gaussian with half amplitude at the band's coarse end. */
function smoothingRadius(stepMm: number): number {
  const sigma = (COARSEST_MM * HALF_AMPLITUDE_SIGMA) / stepMm;
  return Math.max(1, Math.round((Math.sqrt(6 * sigma * sigma + 1) - 1) / 2));
}

function cut(source: Plane, box: { left: number; top: number; width: number; height: number }): Plane {
  const out = plane(box.width, box.height);
  for (let row = 0; row < box.height; row++) {
    const from = (box.top + row) * source.width + box.left;
    out.values.set(source.values.subarray(from, from + box.width), row * box.width);
  }
  return out;
}
