export function median(values: ArrayLike<number>): number {
  const sorted = Float64Array.from(values).sort();
  if (sorted.length === 0) return 0;
  const upper = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[upper] : (sorted[upper - 1] + sorted[upper]) / 2;
}

/** Pixels looked at: a robust measure of that many is steady to about 1 %. */
const MOST_SAMPLES = 8000;

/**
 * Standard deviation of a signal about 0 from the median of its size: 1.4826 times it for normal noise, so that less than half
 * of the pixels may be anything.
 * Source: 1 / 0.6745, the upper quartile of the normal distribution.
 */
export function robustDeviation(signal: Float32Array, weight: Float32Array): number {
  const stride = Math.max(1, Math.floor(signal.length / MOST_SAMPLES)) | 1;
  const sizes: number[] = [];
  for (let i = 0; i < signal.length; i += stride) if (weight[i] > 0.5) sizes.push(Math.abs(signal[i]));
  return 1.4826 * median(sizes);
}
