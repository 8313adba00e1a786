/**
 * Discrete Fourier transform of a complex square picture in place, by the radix-2 algorithm; tables are made once per size.
 *
 * | in  | re, im: row-major, side x side; side a power of two   |
 * | out | re, im: sum of z(x, y) exp(-2 pi i (u x + v y) / side) |
 *
 * Source: J. W. Cooley, J. W. Tukey, Math. Comput. 19, 297-301 (1965) (from memory) [COOLEY1965].
 */
export function fourierSquare(side: number): (re: Float32Array, im: Float32Array) => void {
  if (!Number.isInteger(Math.log2(side)) || side < 2) {
    throw new RangeError(`Expected a power of two but received ${side}`);
  }
  const table = lineTable(side);
  return (re, im) => {
    transformRows(re, im, table);
    transpose(re, side);
    transpose(im, side);
    transformRows(re, im, table);
    transpose(re, side);
    transpose(im, side);
  };
}

interface LineTable {
  readonly side: number;
  readonly reversed: Uint16Array;
  readonly cos: Float64Array;
  readonly sin: Float64Array;
}

function lineTable(side: number): LineTable {
  const bits = Math.log2(side);
  const reversed = new Uint16Array(side);
  for (let i = 0; i < side; i++) reversed[i] = (reversed[i >> 1] >> 1) | ((i & 1) << (bits - 1));
  const angles = Float64Array.from({ length: side / 2 }, (_, i) => (2 * Math.PI * i) / side);
  return { side, reversed, cos: angles.map(Math.cos), sin: angles.map((angle) => -Math.sin(angle)) };
}

function transformRows(re: Float32Array, im: Float32Array, table: LineTable): void {
  const { side, reversed, cos, sin } = table;
  const lineRe = new Float64Array(side);
  const lineIm = new Float64Array(side);
  for (let start = 0; start < side * side; start += side) {
    for (let i = 0; i < side; i++) {
      lineRe[i] = re[start + reversed[i]];
      lineIm[i] = im[start + reversed[i]];
    }
    for (let half = 1; half < side; half *= 2) {
      const stride = side / (2 * half);
      for (let k = 0; k < half; k++) {
        const c = cos[k * stride];
        const s = sin[k * stride];
        for (let i = k; i < side; i += 2 * half) {
          const j = i + half;
          const tr = lineRe[j] * c - lineIm[j] * s;
          const ti = lineRe[j] * s + lineIm[j] * c;
          lineRe[j] = lineRe[i] - tr;
          lineIm[j] = lineIm[i] - ti;
          lineRe[i] += tr;
          lineIm[i] += ti;
        }
      }
    }
    for (let i = 0; i < side; i++) {
      re[start + i] = lineRe[i];
      im[start + i] = lineIm[i];
    }
  }
}

function transpose(values: Float32Array, side: number): void {
  for (let row = 0; row < side; row++) {
    for (let column = row + 1; column < side; column++) {
      const held = values[row * side + column];
      values[row * side + column] = values[column * side + row];
      values[column * side + row] = held;
    }
  }
}
