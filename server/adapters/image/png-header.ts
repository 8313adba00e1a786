import { inflateSync } from 'node:zlib';
import { failure, success, type Outcome } from '../../domain/index.ts';
import { ByteCursor } from './byte-cursor.ts';
import { MOST_ICC_BYTES } from './icc-profile.ts';
import { PLAIN_HEADER, type PhotoHeader } from './photo-header.ts';

const SIGNATURE_BYTES = 8;
const CRC_BYTES = 4;
/** Colour types without colour. Source: [PNG3] IHDR */
const GREY_TYPES: ReadonlySet<number> = new Set([0, 4]);
const PALETTE_TYPE = 3;

interface Chunks {
  header: Uint8Array | null;
  frames: number;
  exif: Uint8Array | null;
  compressedIcc: Uint8Array | null;
  /** Where the picture ends; null when the file stops before its IEND chunk. */
  pictureBytes: number | null;
}

export function readPngHeader(file: Uint8Array): Outcome<PhotoHeader> {
  const { header, frames, exif, compressedIcc, pictureBytes } = readChunks(file);
  if (header === null) return failure({ code: 'photo-truncated', detail: 'the PNG holds no IHDR chunk' });
  const cursor = new ByteCursor(header);
  const [widthPx, heightPx, bitDepth, colourType] = [cursor.uint32(), cursor.uint32(), cursor.uint8(), cursor.uint8()];
  const icc = inflateIcc(compressedIcc);
  if (!icc.ok) return icc;
  return success({
    ...PLAIN_HEADER,
    kind: 'png',
    widthPx,
    heightPx,
    frames,
    bitsPerChannel: colourType === PALETTE_TYPE ? 8 : bitDepth,
    colourObstacle: GREY_TYPES.has(colourType) ? 'a greyscale PNG' : null,
    exif,
    icc: icc.value,
    pictureBytes,
  });
}

function readChunks(file: Uint8Array): Chunks {
  const chunks: Chunks = { header: null, frames: 1, exif: null, compressedIcc: null, pictureBytes: null };
  const cursor = new ByteCursor(file, { start: SIGNATURE_BYTES });
  while (cursor.remaining > 0) {
    const length = cursor.uint32();
    const type = cursor.text();
    const content = cursor.bytes(length);
    cursor.skip(CRC_BYTES);
    if (cursor.isOverrun()) return chunks;
    if (type === 'IHDR' && length === 13) chunks.header ??= content;
    else if (type === 'acTL') chunks.frames = new ByteCursor(content).uint32();
    else if (type === 'eXIf') chunks.exif ??= content;
    else if (type === 'iCCP') chunks.compressedIcc ??= content;
    else if (type === 'IEND') return { ...chunks, pictureBytes: cursor.position };
  }
  return chunks;
}

/** iCCP: name, zero byte, compression method 0, zlib stream. Source: [PNG3] iCCP */
function inflateIcc(chunk: Uint8Array | null): Outcome<Uint8Array | null> {
  if (chunk === null) return success(null);
  const nameEnd = chunk.indexOf(0);
  if (nameEnd === -1 || chunk[nameEnd + 1] !== 0) {
    return failure({ code: 'photo-icc-broken', detail: 'the iCCP chunk has no profile' });
  }
  try {
    return success(inflateSync(chunk.subarray(nameEnd + 2), { maxOutputLength: MOST_ICC_BYTES }));
  } catch (error) {
    const isTooLong = error instanceof RangeError;
    const detail = isTooLong ? `it is longer than ${MOST_ICC_BYTES} bytes` : 'it cannot be unpacked';
    return failure({ code: 'photo-icc-broken', detail });
  }
}
