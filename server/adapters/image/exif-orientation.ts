import { failure, success, type Outcome } from '../../domain/index.ts';
import { readTiffDirectory, readTiffStart, TIFF_SHORT } from './tiff-directory.ts';

/** Which corner of the scene the first stored pixel shows; 1 is upright. Source: [EXIF] tag 274 */
export type ExifOrientation = 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8;
const ORIENTATION_TAG = 274;
const isOrientation = (value: number): value is ExifOrientation => Number.isInteger(value) && value >= 1 && value <= 8;

const broken = (detail: string): Outcome<ExifOrientation> => failure({ code: 'photo-exif-broken', detail });

/** Reads the orientation from an EXIF block (a small TIFF); absent or 0 means upright. */
export function readExifOrientation(exif: Uint8Array): Outcome<ExifOrientation> {
  const start = readTiffStart(exif);
  if (start === null) return broken('it has no TIFF header');
  const directory = readTiffDirectory(exif, start.firstOffset, start.isLittleEndian);
  if (directory === null) {
    return broken(`its directory at ${start.firstOffset} does not fit into its ${exif.length} bytes`);
  }
  const field = directory.fields.get(ORIENTATION_TAG);
  if (field === undefined) return success(1);
  if (field.type !== TIFF_SHORT || field.count !== 1 || field.values === null) {
    return broken(`its orientation has type ${field.type} and count ${field.count} instead of one 16-bit number`);
  }
  const value = field.values[0];
  if (value === 0) return success(1);
  return isOrientation(value) ? success(value) : broken(`its orientation is ${value}, expected 1 to 8`);
}

/** Some writers put the JPEG prefix of the block into other containers too. */
export function withoutExifPrefix(block: Uint8Array): Uint8Array {
  const hasPrefix =
    block.length > 6 && Buffer.from(block.buffer, block.byteOffset, 6).toString('latin1') === 'Exif\0\0';
  return hasPrefix ? block.subarray(6) : block;
}
