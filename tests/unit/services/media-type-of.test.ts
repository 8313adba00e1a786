import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { mediaTypeOf } from '../../../server/services/media-type-of.ts';

const picture = sharp({ create: { width: 40, height: 40, channels: 3, background: '#888' } });

describe('the kind of a photo file', () => {
  it.each(['jpeg', 'png', 'webp', 'tiff', 'avif'] as const)('is told from its first bytes (%s)', async (kind) => {
    expect(mediaTypeOf(await picture.clone().toFormat(kind).toBuffer())).toBe(`image/${kind}`);
  });

  it('is HEIC for other brands of that container, and unknown for the rest', () => {
    expect(mediaTypeOf(Buffer.from('\0\0\0\x18ftypheic\0\0\0\0', 'latin1'))).toBe('image/heic');
    expect(mediaTypeOf(Buffer.from('hello'))).toBe('application/octet-stream');
    expect(mediaTypeOf(new Uint8Array())).toBe('application/octet-stream');
  });
});
