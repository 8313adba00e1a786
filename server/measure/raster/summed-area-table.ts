/**
 * Summed-area table: the sum of any upright rectangle in four look-ups.
 * Source: F. C. Crow, Summed-area tables for texture mapping, SIGGRAPH 1984 (from memory).
 */
export interface SummedAreaTable {
  readonly width: number;
  readonly height: number;
  /** (width + 1) x (height + 1), row-major: the sum of everything above and to the left of a pixel corner. */
  readonly sums: Float64Array;
}

/** @param valueAt number of the pixel with this index (row * width + column) */
export function summedAreaTable(width: number, height: number, valueAt: (index: number) => number): SummedAreaTable {
  const sums = new Float64Array((width + 1) * (height + 1));
  for (let row = 0; row < height; row++) {
    let line = 0;
    const above = row * (width + 1);
    const here = above + width + 1;
    for (let column = 0; column < width; column++) {
      line += valueAt(row * width + column);
      sums[here + column + 1] = sums[above + column + 1] + line;
    }
  }
  return { width, height, sums };
}

/** Sum over columns [left, right) and rows [top, bottom). */
export function rectangleSum(
  table: SummedAreaTable,
  rectangle: { left: number; top: number; right: number; bottom: number },
): number {
  const stride = table.width + 1;
  const { left, top, right, bottom } = rectangle;
  const s = table.sums;
  return s[bottom * stride + right] - s[top * stride + right] - s[bottom * stride + left] + s[top * stride + left];
}
