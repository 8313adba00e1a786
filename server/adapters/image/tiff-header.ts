import { failure, success, type Outcome } from '../../domain/index.ts';
import { ByteCursor } from './byte-cursor.ts';
import { PLAIN_HEADER, type PhotoHeader } from './photo-header.ts';
import { readTiffDirectory, readTiffStart, type TiffDirectory } from './tiff-directory.ts';

/** Source: [TIFF6]; ICC tag: [ICC.1] annex B; DNG version: [DNG] tag list */
const TAG = {
  subfileType: 254,
  width: 256,
  height: 257,
  bitsPerSample: 258,
  photometric: 262,
  samplesPerPixel: 277,
  extraSamples: 338,
  sampleFormat: 339,
  icc: 34675,
  dngVersion: 50706,
} as const;
const IS_REDUCED = 1;
/** Photometric interpretations without plain RGB, in words; RGB is 2, palette 3, YCbCr 6. */
const OTHER_MODELS: Readonly<Record<number, string>> = {
  0: 'a greyscale TIFF',
  1: 'a greyscale TIFF',
  4: 'a transparency mask',
  5: 'a CMYK (print) TIFF',
  8: 'a CIELAB TIFF',
  9: 'a CIELAB TIFF',
};
const RAW_PHOTOMETRICS: ReadonlySet<number> = new Set([32803, 34892]);
const MOST_DIRECTORIES = 1000;

export function readTiffHeader(file: Uint8Array): Outcome<PhotoHeader> {
  const start = readTiffStart(file);
  const first = start === null ? null : readTiffDirectory(file, start.firstOffset, start.isLittleEndian);
  if (start === null || first === null) {
    return failure({ code: 'photo-truncated', detail: 'the TIFF stops before its directory' });
  }
  if (isCameraRaw(file, first)) return failure({ code: 'photo-wrong-type', found: 'a camera raw file' });
  const [widthPx, heightPx] = [first.fields.get(TAG.width)?.values?.[0], first.fields.get(TAG.height)?.values?.[0]];
  if (widthPx === undefined || heightPx === undefined) {
    return failure({ code: 'photo-truncated', detail: 'the TIFF does not tell its size' });
  }
  const icc = readIcc(file, first);
  if (!icc.ok) return icc;
  return success({
    ...PLAIN_HEADER,
    kind: 'tiff',
    widthPx,
    heightPx,
    frames: countFullPictures(file, first, start.isLittleEndian),
    bitsPerChannel: first.fields.get(TAG.bitsPerSample)?.values?.[0] ?? 1,
    colourObstacle: nameColourObstacle(first),
    // The orientation of a TIFF is a tag of its first directory, as in an EXIF block.
    exif: file,
    icc: icc.value,
    pictureBytes: file.length,
  });
}

/** Raw files share the TIFF layout, and their first picture is a small preview that must not pass for the photo. */
function isCameraRaw(file: Uint8Array, first: TiffDirectory): boolean {
  const photometric = first.fields.get(TAG.photometric)?.values?.[0];
  const isReduced = ((first.fields.get(TAG.subfileType)?.values?.[0] ?? 0) & IS_REDUCED) !== 0;
  const isCanonRaw = new ByteCursor(file, { start: 8 }).text(2) === 'CR';
  return (
    first.fields.has(TAG.dngVersion) ||
    isReduced ||
    isCanonRaw ||
    (photometric !== undefined && RAW_PHOTOMETRICS.has(photometric))
  );
}

/** Thumbnails (reduced-resolution directories) do not count as pictures. */
function countFullPictures(file: Uint8Array, first: TiffDirectory, isLittleEndian: boolean): number {
  let frames = 1;
  let directory: TiffDirectory | null = first;
  const seen = new Set<number>();
  while (directory !== null && directory.nextOffset !== 0 && seen.size < MOST_DIRECTORIES) {
    if (seen.has(directory.nextOffset)) break;
    seen.add(directory.nextOffset);
    directory = readTiffDirectory(file, directory.nextOffset, isLittleEndian);
    const subfileType = directory?.fields.get(TAG.subfileType)?.values?.[0] ?? 0;
    if (directory !== null && (subfileType & IS_REDUCED) === 0) frames += 1;
  }
  return frames;
}

function readIcc(file: Uint8Array, first: TiffDirectory): Outcome<Uint8Array | null> {
  const field = first.fields.get(TAG.icc);
  if (field === undefined) return success(null);
  const icc = new ByteCursor(file, { start: field.valueOffset }).bytes(field.count);
  return icc.length === field.count && field.values !== null
    ? success(icc)
    : failure({ code: 'photo-icc-broken', detail: 'it lies outside the file' });
}

function nameColourObstacle({ fields }: TiffDirectory): string | null {
  const photometric = fields.get(TAG.photometric)?.values?.[0] ?? 0;
  if (photometric in OTHER_MODELS) return OTHER_MODELS[photometric];
  const bits = fields.get(TAG.bitsPerSample)?.values ?? [1];
  const formats = fields.get(TAG.sampleFormat)?.values ?? [1];
  const samples = fields.get(TAG.samplesPerPixel)?.values?.[0] ?? 1;
  if (formats.some((format) => format !== 1)) return 'a TIFF of signed or floating-point samples';
  if (bits.some((bit) => bit !== bits[0]) || (bits[0] !== 8 && bits[0] !== 16)) {
    return `a TIFF of ${bits.join('/')} bits per channel`;
  }
  const extra = fields.get(TAG.extraSamples)?.count ?? 0;
  const expected = photometric === 3 ? 1 : 3;
  return samples === expected + extra && extra <= 1 ? null : `a TIFF of ${samples} samples per pixel`;
}
