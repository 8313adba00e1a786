import { describe, expect, it } from 'vitest';
import { bradfordMatrix } from '../../../../server/measure/colour/chromatic-adaptation.ts';
import {
  applyColourMatrix,
  chainColourMatrices,
  invertColourMatrix,
} from '../../../../server/measure/colour/colour-matrix.ts';
import { ILLUMINANTS, WHITE_D50, WHITE_D65, whitePoint } from '../../../../server/measure/colour/white-point.ts';

const IDENTITY = [1, 0, 0, 0, 1, 0, 0, 0, 1];

describe('Bradford adaptation', () => {
  // Recomputed from the published Bradford matrix and the ASTM E308 whites; the first is also in public tables.
  it.each([
    [
      'D65 to D50',
      bradfordMatrix(WHITE_D65, WHITE_D50),
      [1.0478112, 0.0228866, -0.050127, 0.0295424, 0.9904844, -0.0170491, -0.0092345, 0.0150436, 0.7521316],
    ],
    [
      'D50 to D65',
      bradfordMatrix(WHITE_D50, WHITE_D65),
      [0.9555766, -0.0230393, 0.0631636, -0.0282895, 1.0099416, 0.0210077, 0.0122982, -0.020483, 1.3299098],
    ],
  ] as const)('reproduces the matrix %s', (_name, matrix, published) => {
    published.forEach((value, index) => {
      expect(matrix[index]).toBeCloseTo(value, 6);
    });
  });

  it('leaves colours alone when both whites are the same', () => {
    bradfordMatrix(WHITE_D50, WHITE_D50).forEach((value, index) => {
      expect(value).toBeCloseTo(IDENTITY[index], 12);
    });
  });

  it('maps every tabulated white onto D50 and back again', () => {
    for (const illuminant of ILLUMINANTS) {
      for (const observer of [2, 10] as const) {
        const white = whitePoint(illuminant, observer);
        const out: [number, number, number] = [0, 0, 0];
        applyColourMatrix(bradfordMatrix(white, WHITE_D50), white, out);
        WHITE_D50.forEach((value, index) => {
          expect(out[index]).toBeCloseTo(value, 12);
        });
        const round = chainColourMatrices(bradfordMatrix(WHITE_D50, white), bradfordMatrix(white, WHITE_D50));
        round.forEach((value, index) => {
          expect(value).toBeCloseTo(IDENTITY[index], 10);
        });
      }
    }
  });

  it('refuses to invert a matrix that loses a dimension', () => {
    expect(() => invertColourMatrix([1, 2, 3, 2, 4, 6, 0, 0, 1])).toThrow(RangeError);
  });
});

describe('white points', () => {
  // Source: tables of the public libraries colormath (2 degrees) and scikit-image (10 degrees; computed from the
  // standard's spectra, so they differ by up to 2e-4).
  it.each([
    ['A', 2, 1.0985, 0.35585],
    ['C', 2, 0.98074, 1.18232],
    ['D50', 2, 0.96422, 0.82521],
    ['D55', 2, 0.95682, 0.92149],
    ['D65', 2, 0.95047, 1.08883],
    ['D75', 2, 0.94972, 1.22638],
    ['F2', 2, 0.99186, 0.67393],
    ['F11', 2, 1.00962, 0.6435],
    ['A', 10, 1.1114204, 0.3519978],
    ['C', 10, 0.9728569, 1.161448],
    ['D50', 10, 0.9672063, 0.8142802],
    ['D55', 10, 0.9579666, 0.9092525],
    ['D65', 10, 0.9480967, 1.0730514],
    ['D75', 10, 0.9441714, 1.2064272],
  ] as const)('has the white of %s at %i degrees', (illuminant, observer, X, Z) => {
    const white = whitePoint(illuminant, observer);
    expect(Math.abs(white[0] - X)).toBeLessThan(2e-4);
    expect(Math.abs(white[2] - Z)).toBeLessThan(2e-4);
  });
});
