/**
 * The sRGB transfer functions. Encoded and linear values are relative to the white of the encoding (1). Below 0 the
 * linear part and above 1 the power part simply go on, so a value out of gamut is carried, not clipped.
 * Source: [IEC61966-2-1].
 */
const LINEAR_BREAK = 0.0031308;
const ENCODED_BREAK = 0.04045;

/** Encoded value (0..1) to linear light (0..1). */
export function decodeSrgb(encoded: number): number {
  return encoded <= ENCODED_BREAK ? encoded / 12.92 : ((encoded + 0.055) / 1.055) ** 2.4;
}

/** Linear light (0..1) to encoded value (0..1). */
export function encodeSrgb(linear: number): number {
  return linear <= LINEAR_BREAK ? 12.92 * linear : 1.055 * linear ** (1 / 2.4) - 0.055;
}

/** Linear light to the nearest 8-bit code; what lies outside 0..1 is clipped. */
export function srgb8FromLinear(linear: number): number {
  return Math.min(255, Math.max(0, Math.round(255 * encodeSrgb(linear))));
}

/** Linear light of every code 0..maxCode; index with the code. */
export function srgbDecodeTable(maxCode: 255 | 65535): Float32Array {
  const table = new Float32Array(maxCode + 1);
  for (let code = 0; code <= maxCode; code++) table[code] = decodeSrgb(code / maxCode);
  return table;
}
