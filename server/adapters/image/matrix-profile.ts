import { bradfordMatrix } from '../../measure/colour/chromatic-adaptation.ts';
import { SRGB_TO_XYZ_D65 } from '../../measure/colour/cie-xyz.ts';
import { chainColourMatrices, invertColourMatrix, type ColourMatrix } from '../../measure/colour/colour-matrix.ts';
import { decodeSrgb, encodeSrgb } from '../../measure/colour/srgb.ts';
import { WHITE_D65 } from '../../measure/colour/white-point.ts';
import { ByteCursor } from './byte-cursor.ts';
import { readIccTag } from './icc-profile.ts';
import { readToneCurve, type ToneCurve } from './tone-curve.ts';

/** An RGB space of three curves and a matrix, as every phone and camera writes it. */
export interface MatrixProfile {
  readonly curves: readonly [red: ToneCurve, green: ToneCurve, blue: ToneCurve];
  /** Its linear light to linear sRGB; results outside 0..1 lie outside the sRGB gamut. */
  readonly toLinearSrgb: ColourMatrix;
}

/** White of the profile connection space, to which profiles adapt their primaries. Source: [ICC.1] profile header */
const CONNECTION_WHITE = [0.9642, 1, 0.8249] as const;
const CONNECTION_TO_SRGB = chainColourMatrices(
  invertColourMatrix(SRGB_TO_XYZ_D65),
  bradfordMatrix(CONNECTION_WHITE, WHITE_D65),
);

/** Display P3 has the white and the curve of sRGB. Source: [DISPLAY-P3]; the matrix is recomputed in the tests */
export const DISPLAY_P3_PROFILE: MatrixProfile = {
  curves: [decodeSrgb, decodeSrgb, decodeSrgb],
  toLinearSrgb: [1.2249402, -0.2249402, 0, -0.042057, 1.042057, 0, -0.0196376, -0.078636, 1.0982736],
};

/** Real RGB spaces stay below 2.1 (ProPhoto, tests); more comes from damage and would make the conversion table huge. */
const MOST_ELEMENT = 4;

/** null when a curve or primary cannot be used. */
export function readMatrixProfile(icc: Uint8Array): MatrixProfile | null {
  const [red, green, blue] = ['rTRC', 'gTRC', 'bTRC'].map((name) => readToneCurve(readIccTag(icc, name)));
  const [x, y, z] = ['rXYZ', 'gXYZ', 'bXYZ'].map((name) => readXyz(readIccTag(icc, name)));
  if (red === null || green === null || blue === null || x === null || y === null || z === null) return null;
  const toConnection: ColourMatrix = [x[0], y[0], z[0], x[1], y[1], z[1], x[2], y[2], z[2]];
  const toLinearSrgb = chainColourMatrices(CONNECTION_TO_SRGB, toConnection);
  const isPlausible = toLinearSrgb.every((element) => Math.abs(element) <= MOST_ELEMENT);
  return isPlausible ? { curves: [red, green, blue], toLinearSrgb } : null;
}

/** Source: [ICC.1] XYZType */
function readXyz(tag: Uint8Array): readonly [number, number, number] | null {
  const cursor = new ByteCursor(tag);
  const isXyz = cursor.text() === 'XYZ ';
  cursor.skip(4);
  const [x, y, z] = [0, 1, 2].map(() => (cursor.uint32() | 0) / 65_536);
  return isXyz && !cursor.isOverrun() ? [x, y, z] : null;
}

const STEPS = 9;
/**
 * Half a code of 255 beyond rounding. sRGB profiles that round the primaries differently stay within 1.3 for the purest
 * green, where the curve is steepest; Display P3 moves it by more than 100.
 */
const MOST_IDENTITY_CODES = 2;

/** Whether a profile is sRGB in all but name: no colour of a grid, nor any grey, moves by more than two codes of 255. */
export function isPlainSrgb({ curves, toLinearSrgb: m }: MatrixProfile): boolean {
  const staysPut = (codes: readonly [number, number, number]): boolean => {
    const [r, g, b] = [curves[0](codes[0]), curves[1](codes[1]), curves[2](codes[2])];
    return codes.every((code, row) => {
      const linear = m[3 * row] * r + m[3 * row + 1] * g + m[3 * row + 2] * b;
      const shift = 255 * (encodeSrgb(Math.min(1, Math.max(0, linear))) - code);
      return Math.abs(shift) <= MOST_IDENTITY_CODES;
    });
  };
  const greys = Array.from({ length: 256 }, (_, code) => code / 255);
  const grid = Array.from({ length: STEPS }, (_, step) => step / (STEPS - 1));
  return (
    greys.every((code) => staysPut([code, code, code])) &&
    grid.every((r) => grid.every((g) => grid.every((b) => staysPut([r, g, b]))))
  );
}
