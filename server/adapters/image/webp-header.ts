import { failure, success, type Outcome } from '../../domain/index.ts';
import { ByteCursor } from './byte-cursor.ts';
import { CUT_PICTURE } from './header-limits.ts';
import { PLAIN_HEADER, type PhotoHeader } from './photo-header.ts';

const RIFF_HEADER_BYTES = 12;

interface Size {
  readonly widthPx: number;
  readonly heightPx: number;
}

interface Chunks {
  size: Size | null;
  frames: number;
  exif: Uint8Array | null;
  icc: Uint8Array | null;
}

export function readWebpHeader(file: Uint8Array): Outcome<PhotoHeader> {
  const pictureBytes = new ByteCursor(file, { start: 4, isLittleEndian: true }).uint32() + 8;
  const isCut = pictureBytes > file.length;
  const { size, frames, exif, icc } = readChunks(file.subarray(0, pictureBytes));
  if (size === null) {
    return failure({ code: 'photo-truncated', detail: isCut ? CUT_PICTURE : 'the WebP holds no picture' });
  }
  return success({
    ...PLAIN_HEADER,
    kind: 'webp',
    ...size,
    frames: Math.max(1, frames),
    exif,
    icc,
    pictureBytes: isCut ? null : pictureBytes,
  });
}

/** Source: [WEBP] container */
function readChunks(file: Uint8Array): Chunks {
  const chunks: Chunks = { size: null, frames: 0, exif: null, icc: null };
  const cursor = new ByteCursor(file, { start: RIFF_HEADER_BYTES, isLittleEndian: true });
  while (cursor.remaining >= 8) {
    const type = cursor.text();
    const length = cursor.uint32();
    // The head of the last chunk of a file that was cut still tells the size.
    const content = cursor.bytes(Math.min(length, cursor.remaining));
    // A chunk of odd length is followed by a padding byte, which the last one may lack.
    if (length % 2 === 1 && cursor.remaining > 0) cursor.skip(1);
    if (type === 'VP8X' || type === 'VP8 ' || type === 'VP8L') chunks.size ??= readSize(type, content);
    else if (type === 'ANMF') chunks.frames += 1;
    else if (type === 'EXIF') chunks.exif ??= content;
    else if (type === 'ICCP') chunks.icc ??= content;
  }
  return chunks;
}

function readSize(type: 'VP8X' | 'VP8 ' | 'VP8L', content: Uint8Array): Size | null {
  const cursor = new ByteCursor(content, { isLittleEndian: true });
  let size: Size;
  if (type === 'VP8X') {
    cursor.skip(4);
    size = { widthPx: readUint24(cursor) + 1, heightPx: readUint24(cursor) + 1 };
  } else if (type === 'VP8 ') {
    // Frame tag and start code, then 14 bits each with 2 bits of scaling. Source: [RFC6386] section 9.1
    cursor.skip(6);
    size = { widthPx: cursor.uint16() & 0x3fff, heightPx: cursor.uint16() & 0x3fff };
  } else {
    // 14 bits each, one less than the size. Source: [WEBP] lossless bitstream
    cursor.skip(1);
    const bits = cursor.uint32();
    size = { widthPx: (bits & 0x3fff) + 1, heightPx: ((bits >>> 14) & 0x3fff) + 1 };
  }
  return cursor.isOverrun() ? null : size;
}

function readUint24(cursor: ByteCursor): number {
  return cursor.uint16() + 65536 * cursor.uint8();
}
