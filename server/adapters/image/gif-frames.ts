import { ByteCursor } from './byte-cursor.ts';

const EXTENSION = 0x21;
const PICTURE = 0x2c;

/** Counts the pictures of a GIF as far as its blocks can be followed. Source: [GIF89A] */
export function countGifFrames(file: Uint8Array): number {
  const cursor = new ByteCursor(file, { isLittleEndian: true, start: 10 });
  skipColourTable(cursor, cursor.uint8());
  cursor.skip(2);
  let frames = 0;
  while (cursor.remaining > 0) {
    const block = cursor.uint8();
    if (block === EXTENSION) {
      cursor.skip(1);
    } else if (block === PICTURE) {
      frames += 1;
      cursor.skip(8);
      skipColourTable(cursor, cursor.uint8());
      cursor.skip(1);
    } else {
      break;
    }
    skipSubBlocks(cursor);
  }
  return frames;
}
function skipSubBlocks(cursor: ByteCursor): void {
  for (let size = cursor.uint8(); size > 0; size = cursor.uint8()) cursor.skip(size);
}

function skipColourTable(cursor: ByteCursor, flags: number): void {
  if ((flags & 0x80) !== 0) cursor.skip(3 * 2 ** ((flags & 7) + 1));
}
