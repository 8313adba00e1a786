import { describe, expect, it } from 'vitest';
import { decodeSrgb, encodeSrgb, srgb8FromLinear, srgbDecodeTable } from '../../../../server/measure/colour/srgb.ts';

describe('sRGB transfer functions', () => {
  // First value: doctest of the public library colour-science for IEC 61966-2-1; the others recomputed from the formula.
  it('encodes 18 % grey as published for IEC 61966-2-1', () => {
    expect(encodeSrgb(0.18)).toBeCloseTo(0.4613561295, 9);
  });

  it.each([
    [0.5, 0.2140411405],
    [128 / 255, 0.2158605001],
    [119 / 255, 0.1844749945],
  ])('decodes %f to %f', (encoded, linear) => {
    expect(decodeSrgb(encoded)).toBeCloseTo(linear, 9);
  });

  it('keeps black and white', () => {
    expect([decodeSrgb(0), decodeSrgb(1), encodeSrgb(0)]).toEqual([0, 1, 0]);
    expect(encodeSrgb(1)).toBeCloseTo(1, 12);
  });

  it('gives every 8-bit code back after decoding and encoding', () => {
    for (let code = 0; code <= 255; code++) expect(srgb8FromLinear(decodeSrgb(code / 255))).toBe(code);
  });

  it('inverts itself also outside 0..1, where nothing is clipped', () => {
    for (const linear of [-0.2, -0.001, 0.001, 0.0031, 0.0032, 0.3, 1.4]) {
      expect(decodeSrgb(encodeSrgb(linear))).toBeCloseTo(linear, 7);
    }
  });

  it('rises without a visible step where the straight part meets the power', () => {
    const below = encodeSrgb(0.0031308);
    const above = encodeSrgb(0.0031308 + 1e-12);
    expect(Math.abs(above - below)).toBeLessThan(1e-7);
  });

  it('clips to 8-bit codes only when asked for a code', () => {
    expect([srgb8FromLinear(-0.5), srgb8FromLinear(1.7)]).toEqual([0, 255]);
  });

  it.each([255, 65535] as const)('tables the decoding of all codes up to %i', (maxCode) => {
    const table = srgbDecodeTable(maxCode);
    expect(table).toHaveLength(maxCode + 1);
    for (const code of [0, 1, Math.floor(maxCode / 25), maxCode >> 1, maxCode]) {
      expect(table[code]).toBeCloseTo(decodeSrgb(code / maxCode), 6);
    }
    for (let code = 1; code <= maxCode; code++) {
      if (!(table[code] > table[code - 1])) expect.unreachable(`the table does not rise at code ${code}`);
    }
  });
});
