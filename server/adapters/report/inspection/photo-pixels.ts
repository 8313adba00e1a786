import sharp, { type Sharp } from 'sharp';
import type { PhotoDecoder } from '../../../services/ports.ts';

/** An upright photo in 8-bit sRGB, possibly reduced. */
export interface PhotoPixels {
  readonly width: number;
  readonly height: number;
  /** Three bytes a pixel. */
  readonly pixels: Uint8Array;
  /** Pixels of this raster for each pixel of the upright photo. */
  readonly scale: number;
  readonly photoWidthPx: number;
  readonly photoHeightPx: number;
}

/**
 * Decodes a photo for print, no finer than `longSidePx`. Colours are for looking at only: nothing is measured here. What
 * sharp does not read (HEIC) goes through the decoder that measures.
 */
export async function photoPixels(file: Uint8Array, longSidePx: number, decoder: PhotoDecoder): Promise<PhotoPixels> {
  const source = isHeif(file) ? await decodeHeif(file, decoder) : sharp(file, { failOn: 'error' });
  const { width, height } = await uprightSize(source);
  const scale = Math.min(1, longSidePx / Math.max(width, height));
  const { data, info } = await source
    .autoOrient()
    .resize(Math.max(1, Math.round(width * scale)), Math.max(1, Math.round(height * scale)), { fit: 'fill' })
    .toColourspace('srgb')
    .removeAlpha()
    .raw()
    .toBuffer({ resolveWithObject: true });
  return {
    width: info.width,
    height: info.height,
    pixels: data,
    scale: info.width / width,
    photoWidthPx: width,
    photoHeightPx: height,
  };
}

/** Brands of HEIF files that hold HEVC, at bytes 8 to 11 after "ftyp". Source: [HEIF]. */
const isHeif = (file: Uint8Array): boolean =>
  /^ftyp(?:heic|heix|heim|heis|mif1|msf1)$/.test(Buffer.from(file.subarray(4, 12)).toString('latin1'));

async function decodeHeif(file: Uint8Array, decoder: PhotoDecoder): Promise<Sharp> {
  const decoded = await decoder.decode(file);
  if (!decoded.ok) throw new Error(`A photo of a record cannot be decoded: ${decoded.fault.code}`);
  const { width, height, pixels, maxCode } = decoded.value.raster;
  const bytes = maxCode === 255 ? Uint8Array.from(pixels) : Uint8Array.from(pixels, (code) => (255 * code) / maxCode);
  return sharp(bytes, { raw: { width, height, channels: 3 } });
}

async function uprightSize(source: Sharp): Promise<{ width: number; height: number }> {
  const { width, height, orientation = 1 } = await source.metadata();
  // Orientations 5 to 8 lay the picture on its side. Source: [EXIF].
  return orientation >= 5 ? { width: height, height: width } : { width, height };
}

/** Class codes on the upright photo's pixels. */
export interface ClassPixels {
  readonly width: number;
  readonly height: number;
  readonly codes: Uint8Array;
}

export async function classPixels(file: Uint8Array): Promise<ClassPixels> {
  const { data, info } = await sharp(file).extractChannel(0).raw().toBuffer({ resolveWithObject: true });
  return { width: info.width, height: info.height, codes: data };
}
