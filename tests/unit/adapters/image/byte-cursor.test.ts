import { describe, expect, it } from 'vitest';
import { ByteCursor } from '../../../../server/adapters/image/byte-cursor.ts';

const BYTES = Uint8Array.of(0x01, 0x02, 0x03, 0x04, 0x41, 0x42, 0x43, 0x44);

describe('ByteCursor', () => {
  it('reads numbers in the byte order it was told', () => {
    expect(new ByteCursor(BYTES).uint16()).toBe(0x0102);
    expect(new ByteCursor(BYTES).uint32()).toBe(0x01020304);
    expect(new ByteCursor(BYTES, { isLittleEndian: true }).uint16()).toBe(0x0201);
    expect(new ByteCursor(BYTES, { isLittleEndian: true }).uint32()).toBe(0x04030201);
    expect(new ByteCursor(BYTES).uint(3)).toBe(0x010203);
    expect(new ByteCursor(BYTES).uint(0)).toBe(0);
    expect(new ByteCursor(BYTES).uint64()).toBe(0x01020304 * 2 ** 32 + 0x41424344);
    expect(new ByteCursor(BYTES, { start: 4 }).text()).toBe('ABCD');
  });

  it('goes forward with every read and stays inside its range', () => {
    const cursor = new ByteCursor(BYTES, { start: 2, end: 6 });
    expect(cursor.remaining).toBe(4);
    cursor.skip(1);
    expect(cursor.uint8()).toBe(4);
    expect(cursor.remaining).toBe(2);
    expect([...cursor.bytes(2)]).toEqual([0x41, 0x42]);
    expect(cursor.isOverrun()).toBe(false);
    expect(cursor.uint8()).toBe(0);
    expect(cursor.isOverrun()).toBe(true);
  });

  it('gives nothing more after one read too far', () => {
    const cursor = new ByteCursor(BYTES, { start: 6 });
    expect(cursor.uint32()).toBe(0);
    expect(cursor.uint8()).toBe(0);
    expect(cursor.bytes(1)).toHaveLength(0);
    expect(cursor.remaining).toBe(0);
  });

  it('treats negative lengths and places as too far', () => {
    const cursor = new ByteCursor(BYTES);
    cursor.skip(-1);
    expect(cursor.isOverrun()).toBe(true);
    expect(new ByteCursor(BYTES, { start: -4 }).uint8()).toBe(0);
  });

  it('never reads beyond the bytes even when its range says so', () => {
    expect(new ByteCursor(BYTES, { end: 1000 }).remaining).toBe(BYTES.length);
  });
});
