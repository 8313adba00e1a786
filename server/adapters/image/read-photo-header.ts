import type { Outcome } from '../../domain/index.ts';
import { readHeifHeader } from './heif-header.ts';
import { readJpegHeader } from './jpeg-header.ts';
import type { PhotoHeader, PhotoKind } from './photo-header.ts';
import { readPngHeader } from './png-header.ts';
import { readTiffHeader } from './tiff-header.ts';
import { readWebpHeader } from './webp-header.ts';

const READERS: { readonly [Kind in PhotoKind]: (file: Uint8Array) => Outcome<PhotoHeader> } = {
  jpeg: readJpegHeader,
  png: readPngHeader,
  webp: readWebpHeader,
  tiff: readTiffHeader,
  avif: readHeifHeader,
  heic: readHeifHeader,
};

/** What the file says about its picture, read without decoding a pixel. */
export const readPhotoHeader = (kind: PhotoKind, file: Uint8Array): Outcome<PhotoHeader> => READERS[kind](file);
