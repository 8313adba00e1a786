import { failure, success, type Outcome } from '../../domain/index.ts';
import { ByteCursor } from './byte-cursor.ts';
import { PLAIN_HEADER, type PhotoHeader } from './photo-header.ts';

/** Markers. Source: [T81] table B.1 */
const MARKER = { app1: 0xe1, app2: 0xe2, app14: 0xee, endOfImage: 0xd9, startOfScan: 0xda } as const;
/** Start-of-frame markers; C4, C8 and CC in the same range mean something else. */
const isStartOfFrame = (marker: number): boolean =>
  marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker);
/** Restart markers, TEM and start of image stand alone, without a length. */
const isLengthless = (marker: number): boolean => marker === 0x01 || (marker >= 0xd0 && marker <= 0xd8);

interface Frame {
  readonly precisionBits: number;
  readonly heightPx: number;
  readonly widthPx: number;
  readonly components: number;
}

interface Segments {
  frame: Frame | null;
  exif: Uint8Array | null;
  iccChunks: Map<number, Uint8Array>;
  iccChunkCount: number;
  /** Colour transform of the Adobe segment: 2 is YCCK. */
  adobeTransform: number | null;
  hasScan: boolean;
  /** Where the picture ends; null when the file stops before its end-of-image marker. */
  pictureBytes: number | null;
}

export function readJpegHeader(file: Uint8Array): Outcome<PhotoHeader> {
  const segments = readSegments(file);
  const { frame } = segments;
  if (frame === null) return failure({ code: 'photo-truncated', detail: 'the JPEG holds no frame header' });
  const icc = joinIccChunks(segments);
  if (!icc.ok) return icc;
  return success({
    ...PLAIN_HEADER,
    kind: 'jpeg',
    widthPx: frame.widthPx,
    heightPx: frame.heightPx,
    bitsPerChannel: frame.precisionBits,
    colourObstacle: nameColourObstacle(frame, segments.adobeTransform),
    exif: segments.exif,
    icc: icc.value,
    pictureBytes: segments.hasScan ? segments.pictureBytes : null,
  });
}

function readSegments(file: Uint8Array): Segments {
  const segments: Segments = {
    frame: null,
    exif: null,
    iccChunks: new Map(),
    iccChunkCount: 0,
    adobeTransform: null,
    hasScan: false,
    pictureBytes: null,
  };
  let position = 2;
  while (position + 1 < file.length) {
    if (file[position] !== 0xff) return segments;
    const marker = file[position + 1];
    if (marker === MARKER.endOfImage) return { ...segments, pictureBytes: position + 2 };
    if (marker === 0xff) {
      position += 1;
    } else if (isLengthless(marker)) {
      position += 2;
    } else {
      const cursor = new ByteCursor(file, { start: position + 2 });
      const payload = cursor.bytes(cursor.uint16() - 2);
      if (cursor.isOverrun()) return segments;
      readSegment(segments, marker, payload);
      position = marker === MARKER.startOfScan ? findEndOfScan(file, cursor.position) : cursor.position;
    }
  }
  return segments;
}

/** Entropy-coded data ends at the first FF that is neither stuffed (FF 00) nor a restart marker. Source: [T81] annex B */
function findEndOfScan(file: Uint8Array, start: number): number {
  let position = file.indexOf(0xff, start);
  while (position !== -1) {
    const next = file[position + 1];
    if (next !== 0 && !(next >= 0xd0 && next <= 0xd7)) return position;
    position = file.indexOf(0xff, position + 2);
  }
  return file.length;
}

function readSegment(segments: Segments, marker: number, payload: Uint8Array): void {
  const cursor = new ByteCursor(payload);
  if (isStartOfFrame(marker)) {
    segments.frame ??= {
      precisionBits: cursor.uint8(),
      heightPx: cursor.uint16(),
      widthPx: cursor.uint16(),
      components: cursor.uint8(),
    };
  } else if (marker === MARKER.startOfScan) {
    segments.hasScan = true;
  } else if (segments.hasScan) {
    return;
  } else if (marker === MARKER.app1 && cursor.text(6) === 'Exif\0\0') {
    segments.exif ??= payload.subarray(6);
  } else if (marker === MARKER.app2 && cursor.text(12) === 'ICC_PROFILE\0') {
    segments.iccChunks.set(cursor.uint8(), payload.subarray(14));
    segments.iccChunkCount = Math.max(segments.iccChunkCount, cursor.uint8());
  } else if (marker === MARKER.app14 && cursor.text(5) === 'Adobe') {
    segments.adobeTransform = payload.length > 11 ? payload[11] : null;
  }
}

/** Source: [ICC.1] annex B: chunks are numbered from 1, each tells their count. */
function joinIccChunks(segments: Segments): Outcome<Uint8Array | null> {
  const { iccChunks, iccChunkCount } = segments;
  if (iccChunks.size === 0) return success(null);
  const chunks: Uint8Array[] = [];
  for (let number = 1; number <= iccChunkCount; number += 1) {
    const chunk = iccChunks.get(number);
    if (chunk === undefined) {
      return failure({ code: 'photo-icc-broken', detail: `part ${number} of ${iccChunkCount} is missing` });
    }
    chunks.push(chunk);
  }
  if (chunks.length === 0) return failure({ code: 'photo-icc-broken', detail: 'its parts are not numbered' });
  return success(Buffer.concat(chunks));
}

function nameColourObstacle(frame: Frame, adobeTransform: number | null): string | null {
  if (frame.components === 1) return 'a greyscale JPEG';
  if (frame.components === 4) return adobeTransform === 2 ? 'a YCCK (print) JPEG' : 'a CMYK (print) JPEG';
  if (frame.components !== 3) return `a JPEG of ${frame.components} components`;
  return frame.precisionBits === 8 ? null : `a JPEG of ${frame.precisionBits} bits per channel`;
}
