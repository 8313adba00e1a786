import { describe, expect, it } from 'vitest';
import { findHeaderFault, LEAST_SIDE_PX, MOST_MEGAPIXELS } from '../../../../server/adapters/image/header-limits.ts';
import { PLAIN_HEADER, type PhotoHeader } from '../../../../server/adapters/image/photo-header.ts';

const header = (changes: Partial<PhotoHeader>): PhotoHeader => ({
  ...PLAIN_HEADER,
  kind: 'jpeg',
  widthPx: 4000,
  heightPx: 3000,
  pictureBytes: 1000,
  ...changes,
});

describe('findHeaderFault', () => {
  it('lets an ordinary photo pass', () => {
    expect(findHeaderFault(header({}))).toBeNull();
  });

  it('draws the line at the least side and at the most megapixels, both included', () => {
    expect(findHeaderFault(header({ widthPx: LEAST_SIDE_PX, heightPx: LEAST_SIDE_PX }))).toBeNull();
    expect(findHeaderFault(header({ widthPx: LEAST_SIDE_PX - 1 }))?.code).toBe('photo-too-small');
    expect(findHeaderFault(header({ widthPx: 10_000, heightPx: 8000 }))).toBeNull();
    expect(findHeaderFault(header({ widthPx: 10_000, heightPx: 8001 }))).toEqual({
      code: 'photo-too-large',
      megapixels: 80.01,
      mostMegapixels: MOST_MEGAPIXELS,
    });
  });

  it('names the size before anything else, since nothing else can be judged in a picture that large', () => {
    const huge = header({ widthPx: 30_000, heightPx: 30_000, frames: 5, pictureBytes: null });
    expect(findHeaderFault(huge)?.code).toBe('photo-too-large');
  });

  it('reads code points of sRGB and Display P3 and no others', () => {
    const coded = (primaries: number, transfer: number): PhotoHeader => header({ codePoints: { primaries, transfer } });
    for (const primaries of [1, 2, 12]) expect(findHeaderFault(coded(primaries, 13))).toBeNull();
    expect(findHeaderFault(coded(1, 16))).toEqual({ code: 'photo-colour-model', found: 'HDR (PQ)' });
    expect(findHeaderFault(coded(1, 18))).toEqual({ code: 'photo-colour-model', found: 'HDR (HLG)' });
    expect(findHeaderFault(coded(9, 13))).toEqual({
      code: 'photo-colour-model',
      found: 'RGB with colour primaries number 9',
    });
  });

  it('lets a profile go before code points', () => {
    const both = header({ codePoints: { primaries: 9, transfer: 16 }, icc: Uint8Array.of(1) });
    expect(findHeaderFault(both)).toBeNull();
  });
});
