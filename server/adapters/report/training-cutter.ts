import sharp from 'sharp';
import type { ClassMap } from '../../domain/paint-class-map.ts';
import { OUTSIDE_CODE } from '../../domain/paint-class-map.ts';
import type { Box, TrainingCutter } from '../../services/training-ports.ts';

/** Stands where the zone is not: what lies beside the steel is nobody's training data. Middle grey, of the photo's codes. */
const BLANK = 0.46;

export function trainingCutter(): TrainingCutter {
  return {
    async cut(photo, map, box, photoPxPerPixel) {
      const codes = cutCodes(map, box, photoPxPerPixel);
      const raw = { width: box.width, height: box.height };
      const pixels = photo.maxCode === 255 ? new Uint8Array(3 * codes.length) : new Uint16Array(3 * codes.length);
      for (let y = 0, index = 0; y < box.height; y++) {
        for (let x = 0; x < box.width; x++, index++) {
          const from = 3 * ((box.top + y) * photo.width + box.left + x);
          const isBlank = codes[index] === OUTSIDE_CODE;
          for (let channel = 0; channel < 3; channel++) {
            pixels[3 * index + channel] = isBlank ? BLANK * photo.maxCode : photo.pixels[from + channel];
          }
        }
      }
      return {
        photo: await sharp(pixels, { raw: { ...raw, channels: 3 } })
          .png()
          .toBuffer(),
        mask: await sharp(codes, { raw: { ...raw, channels: 1 } })
          .toColourspace('b-w')
          .png({ compressionLevel: 9 })
          .toBuffer(),
      };
    },
  };
}

/** The map's codes as the photo's own pixels see them. */
function cutCodes(map: ClassMap, { left, top, width, height }: Box, photoPxPerPixel: number): Uint8Array {
  const codes = new Uint8Array(width * height);
  for (let y = 0, index = 0; y < height; y++) {
    const row = Math.min(map.height - 1, Math.floor((top + y + 0.5) / photoPxPerPixel)) * map.width;
    for (let x = 0; x < width; x++, index++) {
      codes[index] = map.codes[row + Math.min(map.width - 1, Math.floor((left + x + 0.5) / photoPxPerPixel))];
    }
  }
  return codes;
}
