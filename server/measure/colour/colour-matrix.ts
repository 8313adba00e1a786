/** Three numbers in place: a tuple, an array or a typed array. Results are written into one to spare allocations. */
export interface Triple {
  0: number;
  1: number;
  2: number;
}

/** Row-major 3 x 3. */
export type ColourMatrix = readonly [number, number, number, number, number, number, number, number, number];

/** out = matrix x (x, y, z). `out` may be the array the three numbers came from. */
export function applyColourMatrix(
  matrix: ColourMatrix,
  [x, y, z]: readonly [number, number, number],
  out: Triple,
): void {
  out[0] = matrix[0] * x + matrix[1] * y + matrix[2] * z;
  out[1] = matrix[3] * x + matrix[4] * y + matrix[5] * z;
  out[2] = matrix[6] * x + matrix[7] * y + matrix[8] * z;
}

/** The matrix that applies `second` after `first`. */
export function chainColourMatrices(second: ColourMatrix, first: ColourMatrix): ColourMatrix {
  const element = (row: number, column: number): number =>
    second[3 * row] * first[column] + second[3 * row + 1] * first[3 + column] + second[3 * row + 2] * first[6 + column];
  return [
    element(0, 0),
    element(0, 1),
    element(0, 2),
    element(1, 0),
    element(1, 1),
    element(1, 2),
    element(2, 0),
    element(2, 1),
    element(2, 2),
  ];
}

/**
 * Inverse by cofactors.
 * @throws RangeError for a singular matrix
 */
export function invertColourMatrix(m: ColourMatrix): ColourMatrix {
  const c0 = m[4] * m[8] - m[5] * m[7];
  const c1 = m[5] * m[6] - m[3] * m[8];
  const c2 = m[3] * m[7] - m[4] * m[6];
  const determinant = m[0] * c0 + m[1] * c1 + m[2] * c2;
  if (!Number.isFinite(1 / determinant)) {
    throw new RangeError(`Expected an invertible colour matrix but its determinant is ${determinant}`);
  }
  const scale = 1 / determinant;
  return [
    c0 * scale,
    (m[2] * m[7] - m[1] * m[8]) * scale,
    (m[1] * m[5] - m[2] * m[4]) * scale,
    c1 * scale,
    (m[0] * m[8] - m[2] * m[6]) * scale,
    (m[2] * m[3] - m[0] * m[5]) * scale,
    c2 * scale,
    (m[1] * m[6] - m[0] * m[7]) * scale,
    (m[0] * m[4] - m[1] * m[3]) * scale,
  ];
}
