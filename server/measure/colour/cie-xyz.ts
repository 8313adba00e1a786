import { invertColourMatrix } from './colour-matrix.ts';
import type { ColourMatrix, Triple } from './colour-matrix.ts';

/**
 * Linear sRGB (white 1, 1, 1) to CIE XYZ under D65, 2 degree observer, Y = 1 for white. Linear, so valid for any
 * value; the seven printed digits limit it to about 1e-7.
 * Source: [LINDBLOOM], primaries of [IEC61966-2-1].
 */
export const SRGB_TO_XYZ_D65: ColourMatrix = [
  0.4124564, 0.3575761, 0.1804375, 0.2126729, 0.7151522, 0.072175, 0.0193339, 0.119192, 0.9503041,
];

/** Exact inverse of {@link SRGB_TO_XYZ_D65}, so that there and back is the identity. */
const XYZ_D65_TO_SRGB: ColourMatrix = invertColourMatrix(SRGB_TO_XYZ_D65);

const M = SRGB_TO_XYZ_D65;
const W = XYZ_D65_TO_SRGB;

export function linearSrgbToXyzD65(red: number, green: number, blue: number, out: Triple): void {
  out[0] = M[0] * red + M[1] * green + M[2] * blue;
  out[1] = M[3] * red + M[4] * green + M[5] * blue;
  out[2] = M[6] * red + M[7] * green + M[8] * blue;
}

export function xyzD65ToLinearSrgb(X: number, Y: number, Z: number, out: Triple): void {
  out[0] = W[0] * X + W[1] * Y + W[2] * Z;
  out[1] = W[3] * X + W[4] * Y + W[5] * Z;
  out[2] = W[6] * X + W[7] * Y + W[8] * Z;
}
