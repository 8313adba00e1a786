import { describe, expect, it } from 'vitest';
import { bareLuminance, lightGain } from '../../../../client/viewer/bare-light.ts';
import { CLASS_CODE } from '../../../../server/domain/surface.ts';
import { OUTSIDE_CODE } from '../../../../server/domain/paint-class-map.ts';

const SIZE = 400;
/** Half bare steel of one grey, half rust of another. */
const picture = (bare: number, rust: number): { rgba: Uint8ClampedArray; codes: Uint8Array } => ({
  codes: Uint8Array.from({ length: SIZE }, (_, index) => (index % 2 === 0 ? CLASS_CODE.bare : CLASS_CODE.rust)),
  rgba: Uint8ClampedArray.from({ length: 4 * SIZE }, (_, index) => (Math.floor(index / 4) % 2 === 0 ? bare : rust)),
});

describe('the light on bare steel', () => {
  it('is that of the bare part only: sRGB 188 is half of white in linear light', () => {
    // IEC 61966-2-1: ((188 / 255 + 0.055) / 1.055) ^ 2.4 = 0.503.
    const { rgba, codes } = picture(188, 20);
    expect(bareLuminance(rgba, { codes })).toBeCloseTo(0.503, 3);
  });

  it('cannot be told from too little bare steel', () => {
    const { rgba } = picture(188, 20);
    expect(bareLuminance(rgba, { codes: new Uint8Array(SIZE).fill(OUTSIDE_CODE) })).toBeNull();
  });

  it('is brought to the measured lightness: L* 50 is a luminance of 0.1842', () => {
    // CIE 15: ((50 + 16) / 116) ^ 3 = 0.1842; below L* 8, L* / 903.3.
    expect(lightGain(50, 0.1842)).toBeCloseTo(1, 3);
    expect(lightGain(50, 0.0921)).toBeCloseTo(2, 3);
    expect(lightGain(4, 0.004428)).toBeCloseTo(1, 3);
  });

  it('is left as taken where the factor would make another picture of it', () => {
    expect(lightGain(50, 0.02)).toBeNull();
    expect(lightGain(50, 0.9)).toBeNull();
  });
});
