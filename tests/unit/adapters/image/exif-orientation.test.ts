import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readExifOrientation, withoutExifPrefix } from '../../../../server/adapters/image/exif-orientation.ts';

/** An EXIF block of one entry. Layout: TIFF 6.0, section 2 (memory). */
function block(entry: { bigEndian?: boolean; tag?: number; type?: number; count?: number; value?: number }): Buffer {
  const { bigEndian = false, tag = 274, type = 3, count = 1, value = 6 } = entry;
  const bytes = Buffer.alloc(26);
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
  bytes.write(bigEndian ? 'MM' : 'II', 0, 'latin1');
  view.setUint16(2, 42, !bigEndian);
  view.setUint32(4, 8, !bigEndian);
  view.setUint16(8, 1, !bigEndian);
  view.setUint16(10, tag, !bigEndian);
  view.setUint16(12, type, !bigEndian);
  view.setUint32(14, count, !bigEndian);
  view.setUint16(18, value, !bigEndian);
  return bytes;
}

const detailOf = (bytes: Uint8Array): string => {
  const outcome = readExifOrientation(bytes);
  return !outcome.ok && outcome.fault.code === 'photo-exif-broken' ? outcome.fault.detail : 'readable';
};

describe('readExifOrientation', () => {
  it.each([1, 2, 3, 4, 5, 6, 7, 8])('reads orientation %d in both byte orders', (value) => {
    expect(readExifOrientation(block({ value }))).toEqual({ ok: true, value });
    expect(readExifOrientation(block({ value, bigEndian: true }))).toEqual({ ok: true, value });
  });

  it('takes a missing or zero orientation for upright', () => {
    expect(readExifOrientation(block({ tag: 271 }))).toEqual({ ok: true, value: 1 });
    expect(readExifOrientation(block({ value: 0 }))).toEqual({ ok: true, value: 1 });
  });

  it('refuses what would leave the way up unknown, and says why', () => {
    expect(detailOf(block({ value: 9 }))).toBe('its orientation is 9, expected 1 to 8');
    expect(detailOf(block({ type: 4 }))).toContain('type 4');
    expect(detailOf(block({ count: 2 }))).toContain('count 2');
    expect(detailOf(Buffer.alloc(0))).toBe('it has no TIFF header');
    expect(detailOf(Buffer.from('XX*\0\x08\0\0\0', 'latin1'))).toBe('it has no TIFF header');
    expect(detailOf(Buffer.from('II+\0\x08\0\0\0', 'latin1'))).toBe('it has no TIFF header');
    expect(detailOf(block({}).subarray(0, 15))).toContain('does not fit into its 15 bytes');
    const outside = block({});
    outside.writeUInt32LE(0xfffffff0, 4);
    expect(detailOf(outside)).toContain('at 4294967280');
    const inHeader = block({});
    inHeader.writeUInt32LE(2, 4);
    expect(detailOf(inHeader)).toContain('at 2');
  });

  it('answers any bytes with an orientation or a fault, never by throwing', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 64 }), fc.boolean(), (bytes, hasHeader) => {
        const candidate = hasHeader ? Buffer.concat([Buffer.from('II*\0', 'latin1'), bytes]) : bytes;
        const outcome = readExifOrientation(candidate);
        expect(outcome.ok ? outcome.value : outcome.fault.code).toSatisfy(
          (answer: unknown) => answer === 'photo-exif-broken' || [1, 2, 3, 4, 5, 6, 7, 8].includes(answer as number),
        );
      }),
    );
  });
});

describe('withoutExifPrefix', () => {
  it('drops the JPEG prefix and nothing else', () => {
    const bare = block({});
    expect(withoutExifPrefix(Buffer.concat([Buffer.from('Exif\0\0', 'latin1'), bare])).length).toBe(bare.length);
    expect(withoutExifPrefix(bare)).toBe(bare);
  });
});
