import { plane } from './plane.ts';
import type { Plane } from './plane.ts';

/** Gaussians are cut off this many standard deviations out. */
const REACH_SIGMAS = 3.5;

/** Gaussian of the given standard deviation, px; beyond the raster there is nothing. */
export function gaussianBlur(source: Plane, sigmaPx: number): Plane {
  const reach = Math.max(1, Math.ceil(REACH_SIGMAS * sigmaPx));
  const taps = Float64Array.from({ length: 2 * reach + 1 }, (_, k) =>
    Math.exp(-((k - reach) ** 2) / (2 * sigmaPx ** 2)),
  );
  const total = taps.reduce((sum, tap) => sum + tap, 0);
  const weights = taps.map((tap) => tap / total);
  const across = plane(source.width, source.height);
  const out = plane(source.width, source.height);
  for (let k = -reach; k <= reach; k++) addShifted(source, across, { weight: weights[k + reach], dx: k, dy: 0 });
  for (let k = -reach; k <= reach; k++) addShifted(across, out, { weight: weights[k + reach], dx: 0, dy: k });
  return out;
}

function addShifted(from: Plane, to: Plane, { weight, dx, dy }: { weight: number; dx: number; dy: number }): void {
  const { width, height } = from;
  const [first, last] = [Math.max(0, -dx), Math.min(width, width - dx)];
  for (let row = Math.max(0, -dy); row < Math.min(height, height - dy); row++) {
    const start = row * width;
    const shifted = (row + dy) * width + dx;
    for (let column = first; column < last; column++) {
      to.values[start + column] += weight * from.values[shifted + column];
    }
  }
}
