import type { Outcome } from '../domain/index.ts';
import type { EncodedRgbRaster } from '../measure/raster/rgb-raster.ts';

/** A photo as the measuring core takes it: upright, in sRGB codes. */
export interface DecodedPhoto {
  readonly raster: EncodedRgbRaster;
  /** SHA-256 of the file's bytes, lower-case hex. */
  readonly sha256: string;
}

/** Turns a photo file into an upright sRGB raster, or says why not. Never throws for what a file may hold. */
export interface PhotoDecoder {
  decode(file: Uint8Array): Promise<Outcome<DecodedPhoto>>;
}
