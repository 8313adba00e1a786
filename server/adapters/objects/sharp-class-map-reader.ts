import sharp from 'sharp';
import type { ClassMapReader } from '../../services/object-ports.ts';

/** Most pixels of a class map that is read back; maps are written by this program. */
const MOST_PIXELS = 100_000_000;

/** Class maps are 8-bit grey PNG: one code a pixel, nothing lost. */
export function sharpClassMapReader(): ClassMapReader {
  return {
    async read(png) {
      const { data, info } = await sharp(png, { limitInputPixels: MOST_PIXELS })
        .toColourspace('b-w')
        .extractChannel(0)
        .raw()
        .toBuffer({ resolveWithObject: true });
      return { codes: new Uint8Array(data), width: info.width, height: info.height };
    },
  };
}
