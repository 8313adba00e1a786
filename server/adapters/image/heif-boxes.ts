import { ByteCursor } from './byte-cursor.ts';

/** A box of an ISO base media file; its content is the bytes from `start` up to `end`. */
export interface Box {
  readonly type: string;
  readonly start: number;
  readonly end: number;
}

export interface BoxList {
  readonly boxes: readonly Box[];
  /** The last box announces more bytes than are here. */
  readonly isCut: boolean;
}

/** Lists the boxes side by side in a range. Source: [ISOBMFF] section 4.2 */
export function listBoxes(file: Uint8Array, start = 0, end = file.length): BoxList {
  const boxes: Box[] = [];
  let position = start;
  while (position < end) {
    const cursor = new ByteCursor(file, { start: position, end });
    const shortSize = cursor.uint32();
    const type = cursor.text();
    const size = shortSize === 1 ? cursor.uint64() : shortSize;
    const boxEnd = shortSize === 0 ? end : position + size;
    const isCut = cursor.isOverrun() || boxEnd > end || boxEnd < cursor.position;
    if (isCut) return { boxes, isCut };
    boxes.push({ type, start: cursor.position, end: boxEnd });
    position = boxEnd;
  }
  return { boxes, isCut: false };
}

export const findBox = (list: BoxList, type: string): Box | null => list.boxes.find((box) => box.type === type) ?? null;

/** Children of a plain box, or of one that begins with version and flags (`contentOffset` 4). */
export const childBoxes = (file: Uint8Array, box: Box | null, contentOffset = 0): BoxList =>
  box === null ? { boxes: [], isCut: false } : listBoxes(file, box.start + contentOffset, box.end);

/** A cursor over the content of a box that begins with version and flags, placed after them. */
export function fullBoxCursor(file: Uint8Array, box: Box): { version: number; flags: number; cursor: ByteCursor } {
  const cursor = new ByteCursor(file, { start: box.start, end: box.end });
  return { version: cursor.uint8(), flags: cursor.uint(3), cursor };
}
