import { bradfordMatrix } from './chromatic-adaptation.ts';
import type { Lab } from './cie-lab.ts';
import { labToXyz, xyzToLab } from './cie-lab.ts';
import { SRGB_TO_XYZ_D65 } from './cie-xyz.ts';
import { chainColourMatrices, invertColourMatrix } from './colour-matrix.ts';
import type { ColourMatrix, Triple } from './colour-matrix.ts';
import { decodeSrgb, srgb8FromLinear } from './srgb.ts';
import { WHITE_D50, WHITE_D65 } from './white-point.ts';

/** Linear sRGB to XYZ adapted to D50 (Bradford). Source: [LINDBLOOM]. */
export const SRGB_TO_XYZ_D50: ColourMatrix = chainColourMatrices(bradfordMatrix(WHITE_D65, WHITE_D50), SRGB_TO_XYZ_D65);
const M = SRGB_TO_XYZ_D50;
const W = invertColourMatrix(SRGB_TO_XYZ_D50);

/** Linear sRGB (white = 1, 1, 1; may leave 0..1) to Lab D50 / 2 degrees; out = (L, a, b). */
export function linearSrgbToLabD50(red: number, green: number, blue: number, out: Triple): void {
  out[0] = M[0] * red + M[1] * green + M[2] * blue;
  out[1] = M[3] * red + M[4] * green + M[5] * blue;
  out[2] = M[6] * red + M[7] * green + M[8] * blue;
  xyzToLab(out, WHITE_D50, out);
}

/** Inverse of {@link linearSrgbToLabD50}. Colours outside the sRGB gamut come out below 0 or above 1. */
export function labD50ToLinearSrgb(lab: Lab, out: Triple): void {
  out[0] = lab.L;
  out[1] = lab.a;
  out[2] = lab.b;
  labToXyz(out, WHITE_D50, out);
  const X = out[0];
  const Y = out[1];
  const Z = out[2];
  out[0] = W[0] * X + W[1] * Y + W[2] * Z;
  out[1] = W[3] * X + W[4] * Y + W[5] * Z;
  out[2] = W[6] * X + W[7] * Y + W[8] * Z;
}

/** Lab D50 of an 8-bit sRGB colour. */
export function srgb8ToLabD50([red, green, blue]: readonly [number, number, number]): Lab {
  const lab: [number, number, number] = [0, 0, 0];
  linearSrgbToLabD50(decodeSrgb(red / 255), decodeSrgb(green / 255), decodeSrgb(blue / 255), lab);
  return { L: lab[0], a: lab[1], b: lab[2] };
}

/** Nearest 8-bit sRGB colour of a Lab D50 colour; what lies outside the gamut is clipped channel by channel. */
export function labD50ToSrgb8(lab: Lab): [red: number, green: number, blue: number] {
  const rgb: [number, number, number] = [0, 0, 0];
  labD50ToLinearSrgb(lab, rgb);
  return [srgb8FromLinear(rgb[0]), srgb8FromLinear(rgb[1]), srgb8FromLinear(rgb[2])];
}
