/** Cells per standard deviation of the smoothing on the coarse raster: finer gains nothing visible. */
const CELLS_PER_SIGMA = 4;

export interface TrendGrid {
  readonly width: number;
  readonly height: number;
  readonly stepMm: number;
  readonly sigmaMm: number;
}

/**
 * Takes the weighted Gaussian mean about every pixel off a signal, in place (normalised convolution: what has no weight takes
 * no part). The mean is made on a coarse raster and read between its cells.
 * Source: H. Knutsson, C.-F. Westin, Normalized and differential convolution, CVPR 1993 (from memory) [KNUTSSON1993].
 */
export function subtractSlowTrend(values: Float32Array, weight: Float32Array, grid: TrendGrid): void {
  const block = Math.max(1, Math.round(grid.sigmaMm / CELLS_PER_SIGMA / grid.stepMm));
  const width = Math.ceil(grid.width / block);
  const height = Math.ceil(grid.height / block);
  const sums = new Float32Array(width * height);
  const weights = new Float32Array(width * height);
  for (let y = 0, i = 0; y < grid.height; y++) {
    let cell = Math.floor(y / block) * width;
    for (let start = 0; start < grid.width; start += block, cell++) {
      const end = Math.min(grid.width, start + block);
      let [sum, total] = [0, 0];
      for (let x = start; x < end; x++, i++) {
        sum += weight[i] * values[i];
        total += weight[i];
      }
      sums[cell] += sum;
      weights[cell] += total;
    }
  }
  const sigma = grid.sigmaMm / (block * grid.stepMm);
  blur(sums, width, height, sigma);
  blur(weights, width, height, sigma);
  for (let i = 0; i < sums.length; i++) sums[i] /= Math.max(weights[i], 1e-6);
  subtractBetween(values, grid, { means: sums, width, height, block });
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

interface CoarseMeans {
  readonly means: Float32Array;
  readonly width: number;
  readonly height: number;
  readonly block: number;
}

/** Bilinear between the middles of the cells; outside the outermost middles their value goes on. */
function subtractBetween(values: Float32Array, grid: TrendGrid, { means, width, height, block }: CoarseMeans): void {
  const line = new Float32Array(width);
  const columns = Float32Array.from({ length: grid.width }, (_, x) => placeBetween(x, block, width));
  for (let y = 0, i = 0; y < grid.height; y++) {
    const place = placeBetween(y, block, height);
    const top = Math.min(place | 0, Math.max(0, height - 2));
    const upper = top * width;
    const lower = Math.min(height - 1, top + 1) * width;
    for (let c = 0; c < width; c++) line[c] = means[upper + c] + (means[lower + c] - means[upper + c]) * (place - top);
    for (let x = 0; x < grid.width; x++, i++) {
      const left = columns[x] | 0;
      const here = line[left];
      const next = left + 1 < width ? line[left + 1] : here;
      values[i] -= here + (next - here) * (columns[x] - left);
    }
  }
}

/** Place of a pixel's middle in coarse cells, counted from the first cell's middle. */
const placeBetween = (pixel: number, block: number, count: number): number =>
  Math.min(count - 1, Math.max(0, (pixel + 0.5) / block - 0.5));
