import { converter } from 'culori';
import fc from 'fast-check';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { ADOBE_RGB, buildMatrixProfile, DISPLAY_P3, SRGB, tagPng } from '../../../../fixtures/index.ts';
import { convertToSrgbCodes } from '../../../../server/adapters/image/matrix-conversion.ts';
import {
  DISPLAY_P3_PROFILE,
  readMatrixProfile,
  type MatrixProfile,
} from '../../../../server/adapters/image/matrix-profile.ts';

const toSrgb = converter('rgb');
type Rgb = readonly [number, number, number];

/** sRGB codes 0..255, not rounded, of codes 0..255 of another space, by culori. */
function expectedCodes(mode: 'p3' | 'a98', [r, g, b]: Rgb): number[] {
  const srgb = toSrgb({ mode, r: r / 255, g: g / 255, b: b / 255 });
  return [srgb.r, srgb.g, srgb.b].map((value) => 255 * Math.min(1, Math.max(0, value)));
}

/** Codes 0..255, with fractions for 16 bits, of colours converted as one picture. */
function convertAll(colours: readonly Rgb[], profile: MatrixProfile, maxCode: 255 | 65535 = 255): number[] {
  const values = colours.flat().map((code) => (code * maxCode) / 255);
  const pixels = maxCode === 255 ? Uint8Array.from(values) : Uint16Array.from(values);
  convertToSrgbCodes({ width: colours.length, height: 1, pixels }, profile);
  return Array.from(pixels, (code) => (code * 255) / maxCode);
}

const convertOne = (colour: Rgb, profile: MatrixProfile, maxCode: 255 | 65535 = 255): number[] =>
  convertAll([colour], profile, maxCode);

function read(icc: Buffer): MatrixProfile {
  const profile = readMatrixProfile(icc);
  if (profile === null) throw new Error('no profile');
  return profile;
}

const anyCode = fc.integer({ min: 0, max: 255 });
const anyColour = fc.tuple(anyCode, anyCode, anyCode);

describe('convertToSrgbCodes', () => {
  it('gives the codes culori gives for Display P3: to rounding with 8 bits, to 0.01 codes with 16', () => {
    fc.assert(
      fc.property(fc.array(anyColour, { minLength: 500, maxLength: 500 }), (colours) => {
        const expected = colours.flatMap((colour) => expectedCodes('p3', colour));
        for (const [maxCode, tolerance] of [
          [255, 0.61],
          [65535, 0.01],
        ] as const) {
          const codes = convertAll(colours, DISPLAY_P3_PROFILE, maxCode);
          const errors = codes.map((code, index) => Math.abs(code - expected[index]));
          expect(Math.max(...errors)).toBeLessThanOrEqual(tolerance);
        }
      }),
      { numRuns: 5 },
    );
  });

  it('gives the codes culori gives for Adobe RGB', () => {
    const adobe = read(buildMatrixProfile({ description: 'x', primaries: ADOBE_RGB, curve: { gamma: 2.19921875 } }));
    fc.assert(
      fc.property(anyColour, (colour) => {
        const expected = expectedCodes('a98', colour);
        convertOne(colour, adobe).forEach((code, channel) => {
          // The 16 fraction bits of a profile matter at the edge of the gamut, where the curve is steepest.
          expect(Math.abs(code - expected[channel])).toBeLessThanOrEqual(1);
        });
      }),
    );
  });

  it('keeps grey grey, black black and white white', () => {
    for (let code = 0; code < 256; code += 1) {
      expect(convertOne([code, code, code], DISPLAY_P3_PROFILE)).toEqual([code, code, code]);
    }
    expect(convertOne([255, 255, 255], DISPLAY_P3_PROFILE, 65535)).toEqual([255, 255, 255]);
  });

  it('changes no code by more than rounding when the profile is sRGB', () => {
    const srgb = read(buildMatrixProfile({ description: 'x', primaries: SRGB, curve: 'srgb' }));
    fc.assert(
      fc.property(anyColour, (colour) => {
        convertOne(colour, srgb).forEach((code, channel) => {
          expect(Math.abs(code - colour[channel])).toBeLessThanOrEqual(1);
        });
      }),
    );
  });

  it('clips colours outside sRGB to its edge', () => {
    expect(convertOne([0, 255, 0], DISPLAY_P3_PROFILE)).toEqual([0, 255, 0]);
    expect(convertOne([255, 0, 0], DISPLAY_P3_PROFILE)).toEqual([255, 0, 0]);
  });

  it('treats every pixel alike, wherever it stands', () => {
    const pixels = Uint8Array.of(183, 65, 14, 20, 170, 190, 183, 65, 14);
    convertToSrgbCodes({ width: 3, height: 1, pixels }, DISPLAY_P3_PROFILE);
    expect([...pixels.subarray(0, 3)]).toEqual([...pixels.subarray(6, 9)]);
    expect([...pixels.subarray(3, 6)]).toEqual(convertOne([20, 170, 190], DISPLAY_P3_PROFILE));
  });

  it('agrees with Little CMS within one code of 255 for every profile this project writes', async () => {
    const steps = [0, 32, 64, 96, 128, 160, 192, 224, 255];
    const colours = steps.flatMap((r) => steps.flatMap((g) => steps.map((b) => [r, g, b] as const)));
    for (const primaries of [SRGB, ADOBE_RGB, DISPLAY_P3]) {
      for (const curve of ['srgb', { gamma: 1.8 }, { gamma: 2.2 }] as const) {
        const icc = buildMatrixProfile({ description: 'x', primaries, curve });
        // Reference: Little CMS 2, as sharp applies it to 8-bit pictures.
        const raw = { width: colours.length, height: 1, channels: 3 } as const;
        const png = await sharp(Uint8Array.from(colours.flat()), { raw }).png().toBuffer();
        const reference = await sharp(tagPng(png, icc)).raw().toBuffer();
        const errors = convertAll(colours, read(icc)).map((code, index) => Math.abs(code - reference[index]));
        expect(Math.max(...errors)).toBeLessThanOrEqual(1);
      }
    }
  });
});
