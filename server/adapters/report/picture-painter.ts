import sharp from 'sharp';
import type { PicturePainter } from '../../services/ports.ts';
import { overlayPng } from './overlay/overlay-png.ts';

export function picturePainter(): PicturePainter {
  return {
    overlay: overlayPng,
    classMap: (codes, width, height) =>
      sharp(codes, { raw: { width, height, channels: 1 } })
        .toColourspace('b-w')
        .png({ compressionLevel: 9 })
        .toBuffer(),
  };
}
