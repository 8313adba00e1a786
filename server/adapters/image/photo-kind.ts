import { failure, success, type Outcome } from '../../domain/index.ts';
import { ByteCursor } from './byte-cursor.ts';
import { countGifFrames } from './gif-frames.ts';
import type { PhotoKind } from './photo-header.ts';

type Signature = readonly [offset: number, bytes: string, name: string];

/** ISO base media brands a still decoder takes. Source: [HEIF] and [AVIF] brands; brand list of heic-decode. */
const HEIF_BRANDS: ReadonlySet<string> = new Set(['heic', 'heix', 'hevc', 'hevx', 'mif1', 'msf1', 'avif', 'avis']);

/** File formats an operator may pick by mistake, by their leading bytes (common practice: registered magic numbers). */
const OTHER_TYPES: readonly Signature[] = [
  [0, '%PDF', 'a PDF document'],
  [0, 'BM', 'a BMP picture'],
  [0, '\xff\x0a', 'a JPEG XL picture'],
  [4, 'JXL \r\n', 'a JPEG XL picture'],
  [4, 'jP  \r\n', 'a JPEG 2000 picture'],
  [0, 'II+\0', 'a 64-bit TIFF'],
  [0, 'MM\0+', 'a 64-bit TIFF'],
  [4, 'ftyp', 'a video'],
  [4, 'moov', 'a video'],
  [4, 'mdat', 'a video'],
  [0, '\x1aE\xdf\xa3', 'a video'],
  [8, 'AVI ', 'a video'],
  [0, 'PK\x03\x04', 'a ZIP archive'],
  [0, '8BPS', 'a Photoshop document'],
];

const startsWith = (file: Uint8Array, text: string, offset = 0): boolean =>
  file.length >= offset + text.length && new ByteCursor(file, { start: offset }).text(text.length) === text;

/** Tells the format from the leading bytes, never from a name. */
export function sniffPhotoKind(file: Uint8Array): Outcome<PhotoKind> {
  if (startsWith(file, '\xff\xd8\xff')) return success('jpeg');
  if (startsWith(file, '\x89PNG\r\n\x1a\n')) return success('png');
  if (startsWith(file, 'RIFF') && startsWith(file, 'WEBP', 8)) return success('webp');
  if (startsWith(file, 'II*\0') || startsWith(file, 'MM\0*')) return success('tiff');
  if (startsWith(file, 'ftyp', 4) && HEIF_BRANDS.has(new ByteCursor(file, { start: 8 }).text())) {
    // Which codec is inside is told by the primary item; the brand mif1 is shared by both.
    return success(startsWith(file, 'avi', 8) ? 'avif' : 'heic');
  }
  if (startsWith(file, 'GIF8')) {
    const frames = countGifFrames(file);
    return failure(
      frames > 1 ? { code: 'photo-animated', frames } : { code: 'photo-wrong-type', found: 'a GIF picture' },
    );
  }
  return failure({ code: 'photo-wrong-type', found: nameOtherType(file) });
}

function nameOtherType(file: Uint8Array): string {
  const known = OTHER_TYPES.find(([offset, bytes]) => startsWith(file, bytes, offset));
  if (known !== undefined) return known[2];
  const beginning = new TextDecoder('utf-8').decode(file.subarray(0, 1024));
  if (/^\s*(<\?xml[^]*)?(<!--[^]*)?(<!doctype svg[^]*)?<svg[\s>]/i.test(beginning)) return 'an SVG drawing';
  // Control characters, or bytes that are not UTF-8, do not occur in text; the last letter may be cut.
  return /[\0-\x08\x0e-\x1f\ufffd][^]/.test(beginning) ? 'a file of unknown type' : 'a text file';
}
