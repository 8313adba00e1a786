import type { ColourMatrix } from '../../measure/colour/colour-matrix.ts';
import { encodeSrgb } from '../../measure/colour/srgb.ts';
import type { MatrixProfile } from './matrix-profile.ts';
import type { RgbCodes } from './rgb-codes.ts';
import type { ToneCurve } from './tone-curve.ts';

/**
 * Steps of linear light in the table that encodes sRGB. Where the curve is steepest (12.92 near black) one step is 0.2
 * codes of 255, or 0.8 codes of 65535, so the nearest step is never wrong by more than half a code beside the rounding.
 */
const STEPS = { 255: 2 ** 14, 65535: 2 ** 20 } as const;
type MaxCode = keyof typeof STEPS;

/**
 * sRGB codes by linear light. The table goes as far beyond 0..1 as the matrix can reach, filled with the clipped code:
 * comparisons in the loop over the pixels would double its time.
 */
interface EncodeTable {
  readonly codes: Uint8Array | Uint16Array;
  /** Step of linear light 0. */
  readonly origin: number;
}

/** Replaces the codes of an RGB space by sRGB codes in the same memory; colours outside sRGB are clipped per channel. */
export function convertToSrgbCodes({ pixels }: RgbCodes, { curves, toLinearSrgb }: MatrixProfile): void {
  const maxCode = pixels instanceof Uint8Array ? 255 : 65535;
  const tables = curves.map((curve) => decodeTable(curve, maxCode));
  replaceCodes(pixels, tables, scaleMatrix(toLinearSrgb, STEPS[maxCode]), encodeTable(toLinearSrgb, maxCode));
}

function replaceCodes(
  pixels: Uint8Array | Uint16Array,
  [red, green, blue]: readonly Float64Array[],
  [m0, m1, m2, m3, m4, m5, m6, m7, m8]: readonly number[],
  { codes, origin }: EncodeTable,
): void {
  const nearest = origin + 0.5;
  for (let index = 0; index < pixels.length; index += 3) {
    const r = red[pixels[index]];
    const g = green[pixels[index + 1]];
    const b = blue[pixels[index + 2]];
    pixels[index] = codes[(m0 * r + m1 * g + m2 * b + nearest) | 0];
    pixels[index + 1] = codes[(m3 * r + m4 * g + m5 * b + nearest) | 0];
    pixels[index + 2] = codes[(m6 * r + m7 * g + m8 * b + nearest) | 0];
  }
}

const scaleMatrix = (matrix: ColourMatrix, factor: number): number[] => matrix.map((element) => element * factor);

const decodeTable = (curve: ToneCurve, maxCode: MaxCode): Float64Array =>
  Float64Array.from({ length: maxCode + 1 }, (_, code) => curve(code / maxCode));

function encodeTable(matrix: ColourMatrix, maxCode: MaxCode): EncodeTable {
  const steps = STEPS[maxCode];
  const rows = [matrix.slice(0, 3), matrix.slice(3, 6), matrix.slice(6, 9)];
  const sum = (row: readonly number[], sign: 1 | -1): number =>
    row.reduce((total, element) => total + Math.max(0, sign * element), 0);
  const origin = 1 + Math.ceil(steps * Math.max(...rows.map((row) => sum(row, -1))));
  const top = 1 + Math.ceil(steps * Math.max(1, ...rows.map((row) => sum(row, 1))));
  const codes = maxCode === 255 ? new Uint8Array(origin + top + 1) : new Uint16Array(origin + top + 1);
  for (let step = 0; step < steps; step += 1) codes[origin + step] = Math.round(maxCode * encodeSrgb(step / steps));
  return { codes: codes.fill(maxCode, origin + steps), origin };
}
