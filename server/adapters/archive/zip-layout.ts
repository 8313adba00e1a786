import { crc32 } from 'node:zlib';
import type { ArchiveEntry } from '../../services/evidence-ports.ts';

/** A run of bytes of the archive and what it is. */
export interface ArchivePart {
  /** The file it belongs to; "(end of archive)" for the closing record. */
  readonly path: string;
  readonly what: 'local header' | 'content' | 'directory entry' | 'closing record';
  readonly bytes: Uint8Array;
}

export const END_OF_ARCHIVE = '(end of archive)';
export const SIGNATURE = { local: 0x04034b50, directory: 0x02014b50, end: 0x06054b50 } as const;
export const SIZE = { local: 30, directory: 46, end: 22 } as const;
/** Version of the format that readers need: 2.0. Source: [APPNOTE], from memory. */
const VERSION = 20;
/** Midnight of 1980-01-01, the first that the format knows: files carry no time of their own. */
const FIRST_DAY = { time: 0, date: 0x0021 } as const;
/** Without the 64-bit extension. */
const MOST_ARCHIVE_BYTES = 0xffff_fffe;
export const MOST_FILES = 0xfffe;

/**
 * The one way in which these files are laid out: stored, in the given order, no extra fields, no comments, fixed date. The
 * parts in a row are the archive. Source: [APPNOTE], from memory; checked against two independent readers in the tests.
 *
 * @param checksums CRC-32 to write for an entry instead of its own, for telling a damaged content from a damaged header
 * @throws RangeError for names that are not plain ASCII, for too many files, or for more than 4 GB
 */
export function layOutZip(entries: readonly ArchiveEntry[], checksums?: readonly number[]): ArchivePart[] {
  if (entries.length > MOST_FILES) {
    throw new RangeError(`Expected at most ${MOST_FILES} files but received ${entries.length}`);
  }
  const files: ArchivePart[] = [];
  const directory: ArchivePart[] = [];
  let offset = 0;
  for (const [at, { path, bytes }] of entries.entries()) {
    const name = asciiName(path);
    const checksum = checksums === undefined ? crc32(bytes) : checksums[at];
    const header = localHeader(name, bytes.length, checksum);
    files.push({ path, what: 'local header', bytes: header }, { path, what: 'content', bytes });
    directory.push({ path, what: 'directory entry', bytes: directoryEntry(header, name, offset) });
    offset += header.length + bytes.length;
    if (offset > MOST_ARCHIVE_BYTES) throw new RangeError(`Expected at most 4 GB but the files take ${offset} bytes`);
  }
  const directorySize = directory.reduce((sum, part) => sum + part.bytes.length, 0);
  const end = closingRecord(entries.length, directorySize, offset);
  return [...files, ...directory, { path: END_OF_ARCHIVE, what: 'closing record', bytes: end }];
}

function asciiName(path: string): Uint8Array {
  if (!/^[\x20-\x7e]+$/.test(path)) {
    throw new RangeError(`Expected a plain ASCII name but received ${JSON.stringify(path)}`);
  }
  return new TextEncoder().encode(path);
}

function localHeader(name: Uint8Array, size: number, checksum: number): Uint8Array {
  const bytes = new Uint8Array(SIZE.local + name.length);
  const view = new DataView(bytes.buffer);
  view.setUint32(0, SIGNATURE.local, true);
  writeShared(view, 4, { size, checksum, nameLength: name.length });
  bytes.set(name, SIZE.local);
  return bytes;
}

/** The fields from "version needed" to "extra length", which both headers of a file have in a row. */
function writeShared(view: DataView, at: number, file: { size: number; checksum: number; nameLength: number }): void {
  view.setUint16(at, VERSION, true);
  view.setUint16(at + 6, FIRST_DAY.time, true);
  view.setUint16(at + 8, FIRST_DAY.date, true);
  view.setUint32(at + 10, file.checksum, true);
  view.setUint32(at + 14, file.size, true);
  view.setUint32(at + 18, file.size, true);
  view.setUint16(at + 22, file.nameLength, true);
}

function directoryEntry(local: Uint8Array, name: Uint8Array, offset: number): Uint8Array {
  const bytes = new Uint8Array(SIZE.directory + name.length);
  const view = new DataView(bytes.buffer);
  view.setUint32(0, SIGNATURE.directory, true);
  view.setUint16(4, VERSION, true);
  bytes.set(local.subarray(4, SIZE.local), 6);
  view.setUint32(42, offset, true);
  bytes.set(name, SIZE.directory);
  return bytes;
}

function closingRecord(count: number, directorySize: number, directoryOffset: number): Uint8Array {
  const bytes = new Uint8Array(SIZE.end);
  const view = new DataView(bytes.buffer);
  view.setUint32(0, SIGNATURE.end, true);
  view.setUint16(8, count, true);
  view.setUint16(10, count, true);
  view.setUint32(12, directorySize, true);
  view.setUint32(16, directoryOffset, true);
  return bytes;
}
