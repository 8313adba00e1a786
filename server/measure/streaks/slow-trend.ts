/** Cells per standard deviation of the smoothing on the coarse raster: finer gains nothing visible. */
const CELLS_PER_SIGMA = 4;

export interface TrendGrid {
  readonly width: number;
  readonly height: number;
  readonly stepMm: number;
  readonly sigmaMm: number;
}

/**
 * Weighted Gaussian mean about every pixel (normalised convolution: what has no weight takes no part), made on a coarse
 * raster and read between its cells; `visit` receives it pixel by pixel.
 * Source: H. Knutsson, C.-F. Westin, Normalized and differential convolution, CVPR 1993 (from memory) [KNUTSSON1993].
 */
export function slowTrend(
  values: Float32Array,
  weight: Float32Array,
  grid: TrendGrid,
  visit: (index: number, trend: number) => void,
): void {
  const block = Math.max(1, Math.round(grid.sigmaMm / CELLS_PER_SIGMA / grid.stepMm));
  const width = Math.ceil(grid.width / block);
  const height = Math.ceil(grid.height / block);
  const sums = new Float32Array(width * height);
  const weights = new Float32Array(width * height);
  for (let y = 0, i = 0; y < grid.height; y++) {
    const row = Math.floor(y / block) * width;
    for (let x = 0; x < grid.width; x++, i++) {
      const cell = row + Math.floor(x / block);
      sums[cell] += weight[i] * values[i];
      weights[cell] += weight[i];
    }
  }
  const sigma = grid.sigmaMm / (block * grid.stepMm);
  blur(sums, width, height, sigma);
  blur(weights, width, height, sigma);
  for (let i = 0; i < sums.length; i++) sums[i] /= Math.max(weights[i], 1e-6);
  readBetween(sums, { width, height, block }, grid, visit);
}

/** Gaussian smoothing along rows, then columns; beyond the edge there is nothing. */
function blur(values: Float32Array, width: number, height: number, sigma: number): void {
  const reach = Math.ceil(3 * sigma);
  const kernel = Float32Array.from({ length: reach + 1 }, (_, i) => Math.exp((-i * i) / (2 * sigma * sigma)));
  const line = new Float32Array(Math.max(width, height));
  const pass = (start: number, stride: number, count: number): void => {
    for (let i = 0; i < count; i++) line[i] = values[start + i * stride];
    for (let i = 0; i < count; i++) {
      let sum = kernel[0] * line[i];
      for (let k = 1; k <= reach; k++) {
        if (i - k >= 0) sum += kernel[k] * line[i - k];
        if (i + k < count) sum += kernel[k] * line[i + k];
      }
      values[start + i * stride] = sum;
    }
  };
  for (let y = 0; y < height; y++) pass(y * width, 1, width);
  for (let x = 0; x < width; x++) pass(x, width, height);
}

function readBetween(
  coarse: Float32Array,
  cells: { width: number; height: number; block: number },
  grid: TrendGrid,
  visit: (index: number, trend: number) => void,
): void {
  const { width, height, block } = cells;
  for (let y = 0, i = 0; y < grid.height; y++) {
    const py = Math.min(height - 1, Math.max(0, (y + 0.5) / block - 0.5));
    const top = Math.min(Math.floor(py), Math.max(0, height - 2));
    const fy = py - top;
    const upper = top * width;
    const lower = Math.min(height - 1, top + 1) * width;
    for (let x = 0; x < grid.width; x++, i++) {
      const px = Math.min(width - 1, Math.max(0, (x + 0.5) / block - 0.5));
      const left = Math.min(Math.floor(px), Math.max(0, width - 2));
      const right = Math.min(width - 1, left + 1);
      const fx = px - left;
      const a = coarse[upper + left] + (coarse[upper + right] - coarse[upper + left]) * fx;
      const b = coarse[lower + left] + (coarse[lower + right] - coarse[lower + left]) * fx;
      visit(i, a + (b - a) * fy);
    }
  }
}
