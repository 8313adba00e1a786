import type { ByteCursor } from './byte-cursor.ts';
import { childBoxes, findBox, fullBoxCursor, listBoxes, type Box, type BoxList } from './heif-boxes.ts';

export interface HeifItem {
  readonly id: number;
  readonly type: string;
  readonly isHidden: boolean;
  readonly properties: readonly Box[];
  /** Where its bytes lie in the file; empty for data kept inside the meta box. */
  readonly extents: readonly Extent[];
}

/** Bytes of the file from `start` up to `end`, which may lie beyond a file that was cut. */
interface Extent {
  readonly start: number;
  readonly end: number;
}

/** Source: [HEIF] reference types: dimg derives a picture from others, thmb and auxl subordinate one to another */
interface ItemReference {
  readonly type: string;
  readonly from: number;
  readonly to: readonly number[];
}

export interface HeifItems {
  readonly primaryId: number;
  /** By rising item number. */
  readonly items: readonly HeifItem[];
  readonly references: readonly ItemReference[];
}

/** Reads the item tables of a `meta` box. Source: [HEIF], [ISOBMFF] meta box */
export function readHeifItems(file: Uint8Array, meta: Box): HeifItems | null {
  const children = childBoxes(file, meta, 4);
  const primary = findBox(children, 'pitm');
  if (primary === null) return null;
  const { version, cursor } = fullBoxCursor(file, primary);
  const primaryId = readId(cursor, version > 0);
  const propertiesOf = readProperties(file, findBox(children, 'iprp'));
  const extentsOf = readLocations(file, findBox(children, 'iloc'));
  const items = readInfos(file, findBox(children, 'iinf')).map((info) => ({
    ...info,
    properties: propertiesOf.get(info.id) ?? [],
    extents: extentsOf.get(info.id) ?? [],
  }));
  items.sort((one, other) => one.id - other.id);
  return {
    primaryId,
    items,
    references: readReferences(file, findBox(children, 'iref')),
  };
}

const readId = (cursor: ByteCursor, isLong: boolean): number => (isLong ? cursor.uint32() : cursor.uint16());

function readInfos(file: Uint8Array, box: Box | null): Omit<HeifItem, 'properties' | 'extents'>[] {
  if (box === null) return [];
  const { version } = fullBoxCursor(file, box);
  return listBoxes(file, box.start + 4 + (version === 0 ? 2 : 4), box.end)
    .boxes.filter((child) => child.type === 'infe')
    .map((child) => {
      const info = fullBoxCursor(file, child);
      const id = readId(info.cursor, info.version >= 3);
      info.cursor.skip(2);
      return { id, type: info.cursor.text(), isHidden: (info.flags & 1) !== 0 };
    });
}

function readReferences(file: Uint8Array, box: Box | null): ItemReference[] {
  if (box === null) return [];
  const { version } = fullBoxCursor(file, box);
  return childBoxes(file, box, 4).boxes.map((child) => {
    const cursor = fullBoxCursor(file, { ...child, start: child.start - 4 }).cursor;
    const from = readId(cursor, version > 0);
    const count = cursor.uint16();
    const to: number[] = [];
    for (let index = 0; index < count && !cursor.isOverrun(); index += 1) to.push(readId(cursor, version > 0));
    return { type: child.type, from, to };
  });
}

function readProperties(file: Uint8Array, box: Box | null): Map<number, Box[]> {
  const children = childBoxes(file, box);
  const available: BoxList = childBoxes(file, findBox(children, 'ipco'));
  const byItem = new Map<number, Box[]>();
  for (const association of children.boxes.filter((child) => child.type === 'ipma')) {
    const { version, flags, cursor } = fullBoxCursor(file, association);
    const count = cursor.uint32();
    for (let index = 0; index < count && !cursor.isOverrun(); index += 1) {
      const id = readId(cursor, version > 0);
      const numbers = readPropertyNumbers(cursor, (flags & 1) !== 0);
      const found = numbers.map((number) => available.boxes.at(number - 1)).filter((found) => found !== undefined);
      byItem.set(id, [...(byItem.get(id) ?? []), ...found]);
    }
  }
  return byItem;
}

/** Numbers count from 1; the top bit says whether the property is essential. */
function readPropertyNumbers(cursor: ByteCursor, isLong: boolean): number[] {
  const count = cursor.uint8();
  const numbers: number[] = [];
  for (let index = 0; index < count && !cursor.isOverrun(); index += 1) {
    numbers.push(isLong ? cursor.uint16() & 0x7fff : cursor.uint8() & 0x7f);
  }
  return numbers.filter((number) => number > 0);
}

function readLocations(file: Uint8Array, box: Box | null): Map<number, Extent[]> {
  const byItem = new Map<number, Extent[]>();
  if (box === null) return byItem;
  const { version, cursor } = fullBoxCursor(file, box);
  const [sizes, moreSizes] = [cursor.uint8(), cursor.uint8()];
  const [offsetBytes, lengthBytes, baseBytes] = [sizes >> 4, sizes & 15, moreSizes >> 4];
  const indexBytes = version > 0 ? moreSizes & 15 : 0;
  const itemCount = readId(cursor, version >= 2);
  for (let item = 0; item < itemCount && !cursor.isOverrun(); item += 1) {
    const id = readId(cursor, version >= 2);
    // Construction method 0: offsets count from the start of the file; others lie inside the meta box.
    const isInFile = version === 0 || (cursor.uint16() & 15) === 0;
    cursor.skip(2);
    const base = cursor.uint(baseBytes);
    const extentCount = cursor.uint16();
    const extents: Extent[] = [];
    for (let extent = 0; extent < extentCount && !cursor.isOverrun(); extent += 1) {
      cursor.skip(indexBytes);
      const start = base + cursor.uint(offsetBytes);
      extents.push({ start, end: start + cursor.uint(lengthBytes) });
    }
    if (isInFile && !cursor.isOverrun()) byItem.set(id, extents);
  }
  return byItem;
}
