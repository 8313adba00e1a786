import type { GreyRaster } from './plane.ts';
import type { EncodedRgbRaster } from './rgb-raster.ts';

/**
 * Grey picture for searching, `factor` times smaller on each side: means of encoded R'G'B' with weights 1/4, 1/2, 1/4
 * (a cheap luma; nothing is measured on it). Leftover columns and rows on the right and bottom are dropped.
 *
 * @param factor whole number >= 1
 */
export function reducedLuma(photo: EncodedRgbRaster, factor: number): GreyRaster {
  const width = Math.floor(photo.width / factor);
  const height = Math.floor(photo.height / factor);
  const values = new Uint8Array(width * height);
  const { pixels } = photo;
  const sums = new Uint32Array(width);
  const scale = 255 / (photo.maxCode * 4 * factor * factor);
  for (let row = 0; row < height; row++) {
    sums.fill(0);
    for (let line = 0; line < factor; line++) {
      let at = 3 * (row * factor + line) * photo.width;
      for (let column = 0; column < width; column++) {
        let sum = 0;
        for (let k = 0; k < factor; k++, at += 3) sum += pixels[at] + 2 * pixels[at + 1] + pixels[at + 2];
        sums[column] += sum;
      }
    }
    const start = row * width;
    for (let column = 0; column < width; column++) values[start + column] = sums[column] * scale + 0.5;
  }
  return { width, height, values };
}
