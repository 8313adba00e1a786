import { converter } from 'culori';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { LAB_EPSILON, labCompress, labExpand, labToXyz, xyzToLab } from '../../../../server/measure/colour/cie-lab.ts';
import { linearSrgbToXyzD65, xyzD65ToLinearSrgb } from '../../../../server/measure/colour/cie-xyz.ts';
import {
  labD50ToLinearSrgb,
  labD50ToSrgb8,
  linearSrgbToLabD50,
  srgb8ToLabD50,
} from '../../../../server/measure/colour/lab-d50.ts';
import { decodeSrgb } from '../../../../server/measure/colour/srgb.ts';
import { WHITE_D50, WHITE_D65 } from '../../../../server/measure/colour/white-point.ts';

type Numbers = [number, number, number];

function labUnderD65(codes: Numbers): Numbers {
  const out: Numbers = [0, 0, 0];
  const [red, green, blue] = codes.map((code) => decodeSrgb(code / 255));
  linearSrgbToXyzD65(red, green, blue, out);
  xyzToLab(out, WHITE_D65, out);
  return out;
}

describe('CIE Lab of sRGB colours', () => {
  // Recomputed from the IEC 61966-2-1 primaries, the E308 whites and Bradford.
  it.each([
    [
      [255, 0, 0],
      [53.2408, 80.0925, 67.2032],
      [54.2917, 80.8124, 69.8851],
    ],
    [
      [128, 128, 128],
      [53.585, 0, 0],
      [53.585, 0, 0],
    ],
    [
      [183, 65, 14],
      [44.0643, 45.756, 51.1176],
      [44.7341, 47.1672, 52.2841],
    ],
  ] as [Numbers, Numbers, Numbers][])('is known for %j under D65 and under D50', (codes, d65, d50) => {
    labUnderD65(codes).forEach((value, index) => {
      expect(value).toBeCloseTo(d65[index], 3);
    });
    const lab = srgb8ToLabD50(codes);
    [lab.L, lab.a, lab.b].forEach((value, index) => {
      expect(value).toBeCloseTo(d50[index], 3);
    });
  });

  it('agrees with the reference library culori within its rounding of the D50 white', () => {
    // culori takes D50 from xy = 0.3457, 0.3585: up to 1.3e-4 from E308, which is 0.03 in a* and b*.
    const toLab = converter('lab');
    fc.assert(
      fc.property(fc.tuple(fc.nat(255), fc.nat(255), fc.nat(255)), ([r, g, b]) => {
        const theirs = toLab({ mode: 'rgb', r: r / 255, g: g / 255, b: b / 255 });
        const ours = srgb8ToLabD50([r, g, b]);
        expect(Math.abs(ours.L - theirs.l)).toBeLessThan(0.01);
        expect(Math.abs(ours.a - theirs.a)).toBeLessThan(0.05);
        expect(Math.abs(ours.b - theirs.b)).toBeLessThan(0.05);
      }),
      { seed: 41, numRuns: 500 },
    );
  });

  it('gives black zero lightness and the white of the encoding 100, both without colour', () => {
    const black = srgb8ToLabD50([0, 0, 0]);
    expect(black.L).toBeCloseTo(0, 10);
    const white = srgb8ToLabD50([255, 255, 255]);
    expect(white.L).toBeCloseTo(100, 4);
    expect(Math.hypot(white.a, white.b, black.a, black.b)).toBeLessThan(1e-3);
  });

  it('only raises lightness when a colour is made brighter, and keeps its hue', () => {
    const dim: Numbers = [0, 0, 0];
    const bright: Numbers = [0, 0, 0];
    linearSrgbToLabD50(0.2, 0.1, 0.05, dim);
    linearSrgbToLabD50(0.4, 0.2, 0.1, bright);
    expect(bright[0]).toBeGreaterThan(dim[0]);
    expect(Math.atan2(bright[2], bright[1])).toBeCloseTo(Math.atan2(dim[2], dim[1]), 10);
    expect(Math.hypot(bright[1], bright[2]) / Math.hypot(dim[1], dim[2])).toBeCloseTo(2 ** (1 / 3), 10);
  });
});

describe('inverse laws of colour', () => {
  const light = fc.double({ min: -0.1, max: 1.5, noNaN: true });

  it('returns from XYZ to the same linear light', () => {
    fc.assert(
      fc.property(light, light, light, (r, g, b) => {
        const out: Numbers = [0, 0, 0];
        linearSrgbToXyzD65(r, g, b, out);
        xyzD65ToLinearSrgb(...out, out);
        [r, g, b].forEach((value, index) => {
          expect(out[index]).toBeCloseTo(value, 10);
        });
      }),
      { seed: 42 },
    );
  });

  it('returns from Lab D50 to the same linear light, in and out of gamut', () => {
    fc.assert(
      fc.property(light, light, light, (r, g, b) => {
        const out: Numbers = [0, 0, 0];
        linearSrgbToLabD50(r, g, b, out);
        labD50ToLinearSrgb({ L: out[0], a: out[1], b: out[2] }, out);
        [r, g, b].forEach((value, index) => {
          expect(out[index]).toBeCloseTo(value, 9);
        });
      }),
      { seed: 43 },
    );
  });

  it('returns every tried 8-bit colour from its Lab', () => {
    fc.assert(
      fc.property(fc.tuple(fc.nat(255), fc.nat(255), fc.nat(255)), (codes) => {
        expect(labD50ToSrgb8(srgb8ToLabD50(codes))).toEqual(codes);
      }),
      { seed: 44, numRuns: 500 },
    );
  });

  it('compresses and expands without a step at the break', () => {
    expect(labCompress(LAB_EPSILON)).toBeCloseTo(labCompress(LAB_EPSILON + 1e-12), 9);
    for (const t of [-0.3, 0, 0.005, LAB_EPSILON, 0.0089, 0.5, 2]) expect(labExpand(labCompress(t))).toBeCloseTo(t, 12);
    const xyz: Numbers = [...WHITE_D50];
    xyzToLab(xyz, WHITE_D50, xyz);
    expect(xyz).toEqual([100, 0, 0]);
    labToXyz(xyz, WHITE_D50, xyz);
    expect(xyz[0]).toBeCloseTo(WHITE_D50[0], 12);
  });
});
