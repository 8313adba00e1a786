export type PhotoKind = 'jpeg' | 'png' | 'webp' | 'tiff' | 'avif' | 'heic';

/** Coding-independent code points of a picture without an ICC profile (ITU-T H.273). */
export interface ColourCodePoints {
  readonly primaries: number;
  readonly transfer: number;
}

/** What a file says about its picture before a pixel is decoded. */
export interface PhotoHeader {
  readonly kind: PhotoKind;
  /** As stored: before the orientation is applied. */
  readonly widthPx: number;
  readonly heightPx: number;
  readonly frames: number;
  /** Why the samples are not plain RGB of 8 to 16 bits, in words; null when they are. */
  readonly colourObstacle: string | null;
  readonly bitsPerChannel: number;
  /** TIFF-structured block that holds the orientation; null where the container itself says which way is up. */
  readonly exif: Uint8Array | null;
  /** The same of a container that says by itself which way is up; nothing but the time is read from it. */
  readonly exifOfContainer: Uint8Array | null;
  readonly icc: Uint8Array | null;
  readonly codePoints: ColourCodePoints | null;
  /**
   * Bytes of the still picture: later bytes are the camera's own appendix (gain map, video).
   * null when the file stops before the end of its picture.
   */
  readonly pictureBytes: number | null;
  /** Damage to the coded data that the decoder would not report, in words. */
  readonly pictureDamage: string | null;
  /** HEIF: place of the primary picture among the top-level pictures of the file. */
  readonly pictureIndex: number;
}

/** Fields that most containers do not have. */
export const PLAIN_HEADER = {
  frames: 1,
  colourObstacle: null,
  bitsPerChannel: 8,
  exif: null,
  exifOfContainer: null,
  icc: null,
  codePoints: null,
  pictureDamage: null,
  pictureIndex: 0,
} as const;
