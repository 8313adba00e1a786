import type { EncodedRgbRaster } from './rgb-raster.ts';
import { srgbDecodeTable } from '../colour/srgb.ts';

/** Linear luminance (0..1) between pixels at (x, y), or NaN outside the raster. */
export type LuminanceSampler = (x: number, y: number) => number;

/**
 * Bilinear sampling of linear luminance: a blurred edge is symmetric in linear light, not in codes, so sub-pixel edges
 * are sought here. Weights are those of sRGB luminance. Source: [IEC61966-2-1].
 */
export function luminanceSampler(photo: EncodedRgbRaster): LuminanceSampler {
  const { pixels, width, height } = photo;
  const decode = srgbDecodeTable(photo.maxCode);
  const at = (index: number): number =>
    0.2126 * decode[pixels[index]] + 0.7152 * decode[pixels[index + 1]] + 0.0722 * decode[pixels[index + 2]];
  return (x, y) => {
    const px = x - 0.5;
    const py = y - 0.5;
    const column = Math.floor(px);
    const row = Math.floor(py);
    if (!(column >= 0 && row >= 0 && column < width - 1 && row < height - 1)) return NaN;
    const fx = px - column;
    const fy = py - row;
    const index = 3 * (row * width + column);
    const below = index + 3 * width;
    const upper = at(index) * (1 - fx) + at(index + 3) * fx;
    const lower = at(below) * (1 - fx) + at(below + 3) * fx;
    return upper * (1 - fy) + lower * fy;
  };
}
