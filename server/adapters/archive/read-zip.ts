import { crc32 } from 'node:zlib';
import type { ArchiveEntry, ArchiveFlaw, ReadArchive } from '../../services/evidence-ports.ts';
import { END_OF_ARCHIVE, MOST_FILES, SIGNATURE, SIZE, layOutZip } from './zip-layout.ts';

/** A file as one of the two lists of the archive tells of it. */
interface Listed extends ArchiveEntry {
  readonly checksum: number;
}

/**
 * Reads an archive and finds every byte that is not as {@link layOutZip} would have written it. The list that was read
 * along the files and the one in the directory are both tried: a single damaged header leaves the other one whole. Two
 * readings come back where the archive alone cannot tell which of them is right (a name that differs between the lists).
 */
export function readZip(archive: Uint8Array): readonly ReadArchive[] {
  const lists = [walkFiles(archive), walkDirectory(archive)].filter((list) => list.length > 0);
  const readings = lists.map((list) => compare(archive, list));
  if (readings.length === 0) {
    return [{ entries: [], flaws: [{ path: END_OF_ARCHIVE, detail: 'this is not a zip archive' }] }];
  }
  const least = Math.min(...readings.map((reading) => reading.damage));
  const best = readings.filter((reading) => reading.damage === least);
  return (least === 0 ? best.slice(0, 1) : best).map(({ entries, flaws }) => ({ entries, flaws }));
}

function compare(archive: Uint8Array, list: readonly Listed[]): ReadArchive & { readonly damage: number } {
  const flaws: ArchiveFlaw[] = [];
  let damage = 0;
  let offset = 0;
  for (const part of layOutZip(
    list,
    list.map((entry) => entry.checksum),
  )) {
    const actual = archive.subarray(offset, offset + part.bytes.length);
    const different = countDifferent(actual, part.bytes);
    if (different > 0) {
      damage += different;
      flaws.push({ path: part.path, detail: `the ${part.what} is damaged` });
    }
    offset += part.bytes.length;
  }
  if (archive.length > offset) {
    damage += archive.length - offset;
    flaws.push({ path: END_OF_ARCHIVE, detail: `${archive.length - offset} bytes follow that belong to no file` });
  }
  for (const { path, bytes, checksum } of list) {
    if (crc32(bytes) === checksum) continue;
    damage++;
    flaws.push({ path, detail: 'the content does not fit its checksum (CRC-32)' });
  }
  const seen = new Set<string>();
  for (const { path } of list) {
    if (seen.has(path)) flaws.push({ path, detail: 'the name stands in the archive twice' });
    seen.add(path);
  }
  return { entries: list.map(({ path, bytes }) => ({ path, bytes })), flaws, damage };
}

/** Counted no further: by then the reading is the wrong one, or the archive is beyond telling. */
const MOST_COUNTED = 1000;

function countDifferent(actual: Uint8Array, expected: Uint8Array): number {
  if (Buffer.compare(actual, expected) === 0) return 0;
  let count = expected.length - actual.length;
  for (let at = 0; at < actual.length && count < MOST_COUNTED; at++) if (actual[at] !== expected[at]) count++;
  return count;
}

/** Files as their own headers list them, from the first byte on. */
function walkFiles(archive: Uint8Array): Listed[] {
  const view = viewOf(archive);
  const list: Listed[] = [];
  let offset = 0;
  while (offset + SIZE.local <= archive.length && view.getUint32(offset, true) === SIGNATURE.local) {
    if (list.length === MOST_FILES) break;
    const start = offset + SIZE.local + view.getUint16(offset + 26, true);
    const end = start + view.getUint32(offset + 18, true);
    const path = nameAt(archive, offset + SIZE.local, start);
    if (end > archive.length || path === null) break;
    list.push({ path, checksum: view.getUint32(offset + 14, true), bytes: archive.subarray(start, end) });
    offset = end;
  }
  return list;
}

/** Files as the directory at the end lists them. */
function walkDirectory(archive: Uint8Array): Listed[] {
  const view = viewOf(archive);
  const closing = archive.length - SIZE.end;
  if (closing < 0) return [];
  const list: Listed[] = [];
  let at = view.getUint32(closing + 16, true);
  let total = 0;
  while (at + SIZE.directory <= closing && view.getUint32(at, true) === SIGNATURE.directory) {
    const nameEnd = at + SIZE.directory + view.getUint16(at + 28, true);
    const path = nameEnd <= closing ? nameAt(archive, at + SIZE.directory, nameEnd) : null;
    const local = view.getUint32(at + 42, true);
    if (path === null || local + SIZE.local > archive.length) break;
    const start = local + SIZE.local + path.length;
    const end = start + view.getUint32(at + 20, true);
    total += end - local;
    // Entries that overlap cannot all be right; without this limit a small archive could claim any size.
    if (end > archive.length || total > archive.length || list.length === MOST_FILES) break;
    list.push({ path, checksum: view.getUint32(at + 16, true), bytes: archive.subarray(start, end) });
    at = nameEnd;
  }
  return list;
}

const viewOf = (bytes: Uint8Array): DataView => new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);

function nameAt(archive: Uint8Array, from: number, to: number): string | null {
  const name = Buffer.from(archive.subarray(from, to)).toString('latin1');
  return /^[\x20-\x7e]+$/.test(name) ? name : null;
}
