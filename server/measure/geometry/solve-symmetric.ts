/**
 * Inverse of a symmetric positive definite matrix by Cholesky factors.
 * @param matrix row-major n x n
 * @returns row-major inverse, or null when the matrix is not positive definite to working precision
 */
export function invertSymmetric(matrix: Float64Array, n: number): Float64Array | null {
  const factor = choleskyFactor(matrix, n);
  if (factor === null) return null;
  const inverse = new Float64Array(n * n);
  const unit = new Float64Array(n);
  for (let column = 0; column < n; column++) {
    unit.fill(0);
    unit[column] = 1;
    const solution = solveWithFactor(factor, unit, n);
    for (let row = 0; row < n; row++) inverse[row * n + column] = solution[row];
  }
  return inverse;
}

/**
 * Solves matrix * x = right for a symmetric positive definite matrix (row-major n x n).
 * @returns x, or null when the matrix is not positive definite to working precision
 */
export function solveSymmetric(matrix: Float64Array, right: Float64Array, n: number): Float64Array | null {
  const factor = choleskyFactor(matrix, n);
  return factor === null ? null : solveWithFactor(factor, right, n);
}

function choleskyFactor(matrix: Float64Array, n: number): Float64Array | null {
  const factor = new Float64Array(n * n);
  for (let row = 0; row < n; row++) {
    for (let column = 0; column <= row; column++) {
      let sum = matrix[row * n + column];
      for (let k = 0; k < column; k++) sum -= factor[row * n + k] * factor[column * n + k];
      if (row === column) {
        if (!(sum > matrix[row * n + row] * 1e-14)) return null;
        factor[row * n + row] = Math.sqrt(sum);
      } else {
        factor[row * n + column] = sum / factor[column * n + column];
      }
    }
  }
  return factor;
}

function solveWithFactor(factor: Float64Array, right: Float64Array, n: number): Float64Array {
  const x = Float64Array.from(right);
  for (let row = 0; row < n; row++) {
    for (let k = 0; k < row; k++) x[row] -= factor[row * n + k] * x[k];
    x[row] /= factor[row * n + row];
  }
  for (let row = n - 1; row >= 0; row--) {
    for (let k = row + 1; k < n; k++) x[row] -= factor[k * n + row] * x[k];
    x[row] /= factor[row * n + row];
  }
  return x;
}
