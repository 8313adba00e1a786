import { photoTimeSchema } from '../../domain/index.ts';
import type { PhotoTime } from '../../domain/index.ts';
import { ByteCursor } from './byte-cursor.ts';
import { readTiffDirectory, readTiffStart, TIFF_ASCII } from './tiff-directory.ts';
import type { TiffDirectory } from './tiff-directory.ts';

/** Source: [EXIF] tags: where the camera's own directory lies, when the picture was taken, and how far from UTC that clock was */
const TAG = { exifDirectory: 34665, dateTimeOriginal: 36867, offsetTimeOriginal: 36881 } as const;
/** "yyyy:mm:dd hh:mm:ss" and "+hh:mm" with their ends; longer texts are no times. */
const MOST_TEXT_BYTES = 32;

/**
 * When the camera's clock said that the picture was taken; null where the block does not say, or says what is no time (a
 * clock that was never set writes blanks or zeros). An offset that is no offset counts as not stated.
 */
export function readExifTime(exif: Uint8Array): PhotoTime | null {
  const start = readTiffStart(exif);
  const first = start === null ? null : readTiffDirectory(exif, start.firstOffset, start.isLittleEndian);
  const pointer = first?.fields.get(TAG.exifDirectory)?.values?.[0];
  if (start === null || pointer === undefined) return null;
  const directory = readTiffDirectory(exif, pointer, start.isLittleEndian);
  if (directory === null) return null;
  const [, day = '', time = ''] = /^(\S+) (\S+)$/.exec(textOf(exif, directory, TAG.dateTimeOriginal)) ?? [];
  const localTime = `${day.replaceAll(':', '-')}T${time}`;
  const utcOffset = textOf(exif, directory, TAG.offsetTimeOriginal);
  const withOffset = photoTimeSchema.safeParse({ localTime, utcOffset });
  if (withOffset.success) return withOffset.data;
  const without = photoTimeSchema.safeParse({ localTime, utcOffset: null });
  return without.success ? without.data : null;
}

/** Text of a field up to its closing zero; empty where there is none. */
function textOf(exif: Uint8Array, { fields }: TiffDirectory, tag: number): string {
  const field = fields.get(tag);
  if (field === undefined || field.type !== TIFF_ASCII || field.values === null || field.count > MOST_TEXT_BYTES) {
    return '';
  }
  return new ByteCursor(exif, { start: field.valueOffset }).text(field.count).split('\0')[0].trim();
}
