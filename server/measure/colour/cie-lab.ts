import type { Triple } from './colour-matrix.ts';
import type { WhitePoint } from './white-point.ts';

/** CIE 1976 L*a*b*; the white it is meant for stands where the value is made. */
export interface Lab {
  readonly L: number;
  readonly a: number;
  readonly b: number;
}

/** (6/29)^3 and (29/3)^3, the exact fractions behind 0.008856 and 903.3. Source: [CIE15]. */
export const LAB_EPSILON = 216 / 24389;
const LAB_KAPPA = 24389 / 27;

/** Cube root with a straight foot: f(t) of CIE 15. Rises everywhere; t may be negative or beyond 1. */
export function labCompress(t: number): number {
  return t > LAB_EPSILON ? Math.cbrt(t) : (LAB_KAPPA * t + 16) / 116;
}

/** Inverse of {@link labCompress}. */
export function labExpand(f: number): number {
  const cube = f * f * f;
  return cube > LAB_EPSILON ? cube : (116 * f - 16) / LAB_KAPPA;
}

/**
 * XYZ (Y = 1 for white) to L* 0..100, a*, b* relative to `white`; out = (L, a, b), and may be `xyz` itself.
 * Source: [CIE15].
 */
export function xyzToLab(xyz: Readonly<Triple>, white: WhitePoint, out: Triple): void {
  const fx = labCompress(xyz[0] / white[0]);
  const fy = labCompress(xyz[1]);
  const fz = labCompress(xyz[2] / white[2]);
  out[0] = 116 * fy - 16;
  out[1] = 500 * (fx - fy);
  out[2] = 200 * (fy - fz);
}

/** Inverse of {@link xyzToLab}: (L, a, b) to XYZ relative to `white`. */
export function labToXyz(lab: Readonly<Triple>, white: WhitePoint, out: Triple): void {
  const fy = (lab[0] + 16) / 116;
  const fx = fy + lab[1] / 500;
  const fz = fy - lab[2] / 200;
  out[0] = white[0] * labExpand(fx);
  out[1] = labExpand(fy);
  out[2] = white[2] * labExpand(fz);
}
