import { ByteCursor } from './byte-cursor.ts';

/** Field types that are read here, with their bytes per value. Source: [TIFF6] section 2 */
const BYTES_OF_TYPE: Readonly<Record<number, 1 | 2 | 4>> = { 1: 1, 2: 1, 3: 2, 4: 4, 7: 1 };
export const TIFF_ASCII = 2;
export const TIFF_SHORT = 3;
const ENTRY_BYTES = 12;

interface TiffField {
  readonly type: number;
  readonly count: number;
  /** The whole numbers of the field; null for other types, or when they lie outside the block. */
  readonly values: readonly number[] | null;
  readonly valueOffset: number;
}

export interface TiffDirectory {
  readonly fields: ReadonlyMap<number, TiffField>;
  /** 0 after the last directory. */
  readonly nextOffset: number;
}

/** Long fields (strip offsets, profiles) are located, not listed. */
const MOST_LISTED_VALUES = 16;

export interface TiffStart {
  readonly isLittleEndian: boolean;
  readonly firstOffset: number;
}

/** null when the block has no TIFF header: byte order, the number 42, offset of the first directory. */
export function readTiffStart(block: Uint8Array): TiffStart | null {
  const order = new ByteCursor(block).text(2);
  if (order !== 'II' && order !== 'MM') return null;
  const cursor = new ByteCursor(block, { start: 2, isLittleEndian: order === 'II' });
  const isTiff = cursor.uint16() === 42;
  const firstOffset = cursor.uint32();
  return isTiff && !cursor.isOverrun() ? { isLittleEndian: cursor.isLittleEndian, firstOffset } : null;
}

/** null when the directory does not lie wholly inside the block. Source: [TIFF6] section 2 */
export function readTiffDirectory(block: Uint8Array, offset: number, isLittleEndian: boolean): TiffDirectory | null {
  const cursor = new ByteCursor(block, { start: offset, isLittleEndian });
  const entryCount = cursor.uint16();
  // Some cameras leave out the offset of the next directory after the last one.
  if (offset < 8 || cursor.isOverrun() || cursor.remaining < entryCount * ENTRY_BYTES) return null;
  const fields = new Map<number, TiffField>();
  for (let index = 0; index < entryCount; index += 1) {
    const tag = cursor.uint16();
    const field = readField(block, cursor);
    if (!fields.has(tag)) fields.set(tag, field);
  }
  const nextOffset = cursor.remaining >= 4 ? cursor.uint32() : 0;
  return { fields, nextOffset };
}

function readField(block: Uint8Array, cursor: ByteCursor): TiffField {
  const [type, count, inlineAt] = [cursor.uint16(), cursor.uint32(), cursor.position];
  const farOffset = cursor.uint32();
  const bytes = BYTES_OF_TYPE[type] as 1 | 2 | 4 | undefined;
  if (bytes === undefined) return { type, count, values: null, valueOffset: farOffset };
  const valueOffset = bytes * count <= 4 ? inlineAt : farOffset;
  const values = new ByteCursor(block, { start: valueOffset, isLittleEndian: cursor.isLittleEndian });
  if (valueOffset + bytes * count > block.length) return { type, count, values: null, valueOffset };
  const listed: number[] = [];
  for (let index = 0; index < Math.min(count, MOST_LISTED_VALUES); index += 1) listed.push(readValue(values, bytes));
  return { type, count, values: listed, valueOffset };
}

function readValue(cursor: ByteCursor, bytes: 1 | 2 | 4): number {
  if (bytes === 1) return cursor.uint8();
  return bytes === 2 ? cursor.uint16() : cursor.uint32();
}
