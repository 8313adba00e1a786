import type { Readable } from 'node:stream';
import type { EncodedRgbRaster } from '../measure/raster/rgb-raster.ts';

/** Files named by the SHA-256 of their bytes. Once `put` has answered, the file is whole and on the disk. */
export interface ObjectStore {
  put(bytes: Uint8Array): Promise<string>;
  read(sha256: string): Promise<Uint8Array>;
  open(sha256: string): Promise<{ readonly sizeBytes: number; readonly stream: Readable } | null>;
  /** Removes files that no row names and that have not been touched since; answers how many. */
  sweep(named: ReadonlySet<string>, untouchedSince: number): Promise<number>;
}

interface FinishedUpload {
  readonly fileName: string;
  readonly bytes: Uint8Array;
}

export type UploadLook =
  | { readonly state: 'unknown' }
  | { readonly state: 'arriving'; readonly receivedBytes: number; readonly totalBytes: number | null }
  | { readonly state: 'finished'; readonly sizeBytes: number; readonly read: () => Promise<FinishedUpload> };

/** Uploads that have not become photos yet. Each belongs to the person who started it. */
export interface UploadDesk {
  look(uploadId: string, personId: string): Promise<UploadLook>;
  remove(uploadId: string): Promise<void>;
  /** Forgets uploads that nobody went on with since. */
  sweep(untouchedSince: number): Promise<number>;
}

export const PICTURE_SIZES = { thumbnail: 360, display: 2048 } as const;
export type PictureSize = keyof typeof PICTURE_SIZES;

/** Pictures that can be made again from a photo at any time. */
export interface PhotoPictures {
  /** A JPEG, from the shelf or made now. */
  picture(photoSha256: string, size: PictureSize): Promise<Uint8Array>;
  tile(photoSha256: string, place: { level: number; column: number; row: number }): Promise<Uint8Array | null>;
  /** Makes thumbnail and display picture of a photo that is decoded already. */
  prepare(photoSha256: string, raster: EncodedRgbRaster): Promise<void>;
  sweep(photos: ReadonlySet<string>): Promise<void>;
}

/** Reads class maps back from the PNG files that were drawn of them. */
export interface ClassMapReader {
  read(png: Uint8Array): Promise<{ codes: Uint8Array; width: number; height: number }>;
}
