import { ByteCursor } from './byte-cursor.ts';

/** Byte runs that the emulation prevention of HEVC keeps out of every unit. Source: [H.265] section 7.4.2 */
const FORBIDDEN_RUNS = [0, 1, 2].map((last) => Buffer.from([0, 0, last]));

/**
 * What is wrong with the units of a coded HEVC picture, or null. The decoder paints over damaged units without a word,
 * so holes filled with zeros (an interrupted copy) have to be found here. Changed bytes elsewhere stay unnoticed.
 * @param lengthBytes bytes of the length in front of each unit, 1 to 4
 */
export function findHevcDamage(coded: Uint8Array, lengthBytes: number): string | null {
  const cursor = new ByteCursor(coded);
  while (cursor.remaining > 0) {
    const start = cursor.position;
    const unit = cursor.bytes(cursor.uint(lengthBytes));
    if (cursor.isOverrun() || unit.length === 0) return `the coded picture breaks off at its byte ${start}`;
    const bytes = Buffer.from(unit.buffer, unit.byteOffset, unit.length);
    const hasHole = FORBIDDEN_RUNS.some((run) => bytes.includes(run));
    if (hasHole) return `the coded picture has a hole after its byte ${start}`;
  }
  return null;
}
