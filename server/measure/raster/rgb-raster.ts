/**
 * Pictures by encoding: a raster's type says whether its numbers are sRGB codes or linear light, so the two never mix.
 * Pixels are interleaved R, G, B in rows from the top left; pixel (column, row) starts at 3 * (row * width + column).
 */

/** sRGB-encoded photo (IEC 61966-2-1), upright, as codes 0..maxCode. */
export interface EncodedRgbRaster {
  readonly encoding: 'srgb';
  readonly width: number;
  readonly height: number;
  readonly maxCode: 255 | 65535;
  readonly pixels: Uint8Array | Uint16Array;
}

/** Linear light in sRGB primaries; 1 is the white of the encoding. Values may leave 0..1. */
export interface LinearRgbRaster {
  readonly encoding: 'linear';
  readonly width: number;
  readonly height: number;
  readonly pixels: Float32Array;
}

/** @throws RangeError when the pixel count does not fit the size */
export function encodedRgbRaster(width: number, height: number, pixels: Uint8Array | Uint16Array): EncodedRgbRaster {
  requireCount('encoded raster', pixels.length, 3 * width * height);
  return { encoding: 'srgb', width, height, maxCode: pixels instanceof Uint8Array ? 255 : 65535, pixels };
}

/** @throws RangeError when the pixel count does not fit the size */
export function linearRgbRaster(width: number, height: number, pixels: Float32Array): LinearRgbRaster {
  requireCount('linear raster', pixels.length, 3 * width * height);
  return { encoding: 'linear', width, height, pixels };
}

function requireCount(name: string, actual: number, expected: number): void {
  if (actual !== expected) {
    throw new RangeError(`Expected ${expected} samples for ${name} but received ${actual}`);
  }
}
