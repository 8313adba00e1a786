import type { ByteMask } from '../raster/plane.ts';
import { linearRgbRaster } from '../raster/rgb-raster.ts';
import type { EncodedRgbRaster, LinearRgbRaster } from '../raster/rgb-raster.ts';
import { gridToIdeal } from './surface-grid.ts';
import type { PhotoMap } from './photo-map.ts';
import type { SurfaceGrid } from './surface-grid.ts';

/** Reasons why a grid pixel is not measured, as written into the `blocked` mask; 0 is free. */
export const BLOCKED = { outOfPhoto: 1, card: 2, clipped: 3, shadow: 4, glare: 5, blur: 6 } as const;

export interface RectifiedPhoto {
  /** Scene light as the tables give it, averaged over each grid pixel. Pixels outside the mask are 0. */
  readonly light: LinearRgbRaster;
  /** {@link BLOCKED} codes: outOfPhoto, clipped, shadow. */
  readonly blocked: ByteMask;
}

export interface RectifyOptions {
  readonly map: PhotoMap;
  /** Only pixels with a value other than 0 are filled. */
  readonly mask: ByteMask;
  /** From code to light, one table per channel. */
  readonly tables: readonly [Float32Array, Float32Array, Float32Array];
}

/** Codes this near the upper end, in parts of the range, are clipped; a mean below the lower one is too dark to read. */
const CLIPPED_CODE = 253.5 / 255;
const DARK_CODE = 3 / 255;
/** Taps per side of a grid pixel at most: a footprint larger than this is sampled, not averaged in full. */
const MOST_TAPS = 4;

/**
 * Brings a photo onto the surface grid. Light is averaged, not codes, over the footprint of each grid pixel, so that fine
 * grain does not alias; where the photo is coarser than the grid it is interpolated.
 */
export function rectifyPhoto(photo: EncodedRgbRaster, grid: SurfaceGrid, options: RectifyOptions): RectifiedPhoto {
  const map: PhotoMap = { ...options.map, toIdeal: gridToIdeal(grid, options.map.toIdeal) };
  const light = linearRgbRaster(grid.width, grid.height, new Float32Array(3 * grid.width * grid.height));
  const blocked: ByteMask = {
    width: grid.width,
    height: grid.height,
    values: new Uint8Array(grid.width * grid.height),
  };
  const sums = { r: 0, g: 0, b: 0, greenCode: 0, clipped: 0, taps: 0 };
  const gather = pixelGatherer(photo, map, { tables: options.tables, taps: tapsPerSide(map, grid) }, sums);
  const darkest = DARK_CODE * photo.maxCode;
  for (let row = 0, index = 0; row < grid.height; row++) {
    for (let column = 0; column < grid.width; column++, index++) {
      if (options.mask.values[index] === 0) continue;
      gather(column, row);
      if (sums.taps === 0) {
        blocked.values[index] = BLOCKED.outOfPhoto;
        continue;
      }
      const scale = 1 / sums.taps;
      light.pixels[3 * index] = sums.r * scale;
      light.pixels[3 * index + 1] = sums.g * scale;
      light.pixels[3 * index + 2] = sums.b * scale;
      if (2 * sums.clipped > sums.taps) blocked.values[index] = BLOCKED.clipped;
      else if (sums.greenCode * scale < darkest) blocked.values[index] = BLOCKED.shadow;
    }
  }
  return { light, blocked };
}

/** One tap per photo pixel across the grid pixel in the middle of the grid. */
function tapsPerSide(map: PhotoMap, grid: SurfaceGrid): number {
  const h = map.toIdeal.elements;
  const x = grid.width / 2;
  const y = grid.height / 2;
  const depth = h[6] * x + h[7] * y + h[8];
  const u = (h[0] * x + h[1] * y + h[2]) / depth;
  const v = (h[3] * x + h[4] * y + h[5]) / depth;
  const across = Math.hypot(h[0] - u * h[6], h[3] - v * h[6]) / depth;
  const down = Math.hypot(h[1] - u * h[7], h[4] - v * h[7]) / depth;
  return Math.min(MOST_TAPS, Math.max(1, Math.round(Math.max(across, down))));
}

interface Sums {
  r: number;
  g: number;
  b: number;
  greenCode: number;
  clipped: number;
  taps: number;
}

interface Tapping {
  readonly tables: RectifyOptions['tables'];
  readonly taps: number;
}

/** Makes the inner loop: sums light over the taps of one grid pixel into `sums`. */
function pixelGatherer(
  photo: EncodedRgbRaster,
  map: PhotoMap,
  { tables, taps }: Tapping,
  sums: Sums,
): (column: number, row: number) => void {
  const { pixels, width, height } = photo;
  const [red, green, blue] = tables;
  const h = map.toIdeal.elements;
  const [cx, cy] = map.lens.centrePx;
  const bend = map.lens.bend / map.lens.halfDiagonalPx ** 2;
  const clippedCode = Math.floor(CLIPPED_CODE * photo.maxCode);
  const add = (index: number, weight: number): void => {
    const r = pixels[index];
    const g = pixels[index + 1];
    const b = pixels[index + 2];
    sums.r += weight * red[r];
    sums.g += weight * green[g];
    sums.b += weight * blue[b];
    sums.greenCode += weight * g;
    if (r > clippedCode || g > clippedCode || b > clippedCode) sums.clipped += weight;
    sums.taps += weight;
  };
  const addBetween = (u: number, v: number): void => {
    const x = Math.min(Math.max(u - 0.5, 0), width - 1.001);
    const y = Math.min(Math.max(v - 0.5, 0), height - 1.001);
    const left = Math.floor(x);
    const top = Math.floor(y);
    const index = 3 * (top * width + left);
    const fx = x - left;
    const fy = y - top;
    add(index, (1 - fx) * (1 - fy));
    add(index + 3, fx * (1 - fy));
    add(index + 3 * width, (1 - fx) * fy);
    add(index + 3 * width + 3, fx * fy);
  };
  return (column, row) => {
    sums.r = sums.g = sums.b = sums.greenCode = sums.clipped = sums.taps = 0;
    for (let j = 0; j < taps; j++) {
      const y = row + (j + 0.5) / taps;
      for (let i = 0; i < taps; i++) {
        const x = column + (i + 0.5) / taps;
        const depth = 1 / (h[6] * x + h[7] * y + h[8]);
        const dx = (h[0] * x + h[1] * y + h[2]) * depth - cx;
        const dy = (h[3] * x + h[4] * y + h[5]) * depth - cy;
        const k = bend * (dx * dx + dy * dy);
        const factor = 1 - k + 3 * k * k;
        const u = cx + dx * factor;
        const v = cy + dy * factor;
        if (!(u >= 0 && v >= 0 && u < width && v < height)) continue;
        if (taps === 1) addBetween(u, v);
        else add(3 * ((v | 0) * width + (u | 0)), 1);
      }
    }
  };
}
