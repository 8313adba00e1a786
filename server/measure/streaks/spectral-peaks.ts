import type { StripeSpectrum } from './stripe-spectrum.ts';

/** A narrow peak of the spectrum: a set of evenly spaced stripes, if it proves true. */
export interface SpectralPeak {
  /** Wave vector, per mm: it points across the stripes. */
  readonly kx: number;
  readonly ky: number;
  /** Power at the peak over the larger of two backgrounds: about it, and along the same direction. */
  readonly prominence: number;
  readonly power: number;
}

export interface PeakLimits {
  readonly longestMm: number;
  readonly shortestMm: number;
  readonly count: number;
}

/** The most prominent peaks first. */
export function spectralPeaks(spectrum: StripeSpectrum, limits: PeakLimits): SpectralPeak[] {
  const { side, power, binPerMm } = spectrum;
  const lowest = 1 / limits.longestMm / binPerMm;
  const highest = Math.min(1 / limits.shortestMm / binPerMm, side / 2 - 2);
  const at = (u: number, v: number): number => power[(v & (side - 1)) * side + (u & (side - 1))];
  const roots = rootSums(power, side);
  const peaks: SpectralPeak[] = [];
  const reach = Math.floor(highest);
  for (let v = -reach; v <= reach; v++) {
    for (let u = 0; u <= reach; u++) {
      const radius = Math.sqrt(u * u + v * v);
      if (radius < lowest || radius > highest || (u === 0 && v < 0)) continue;
      const here = at(u, v);
      if (!isLocalMaximum(at, u, v, here)) continue;
      const background = Math.max(roots(u, v), alongDirection(at, u, v, highest));
      peaks.push({ ...summit(at, u, v, binPerMm), prominence: here / Math.max(background, 1e-12), power: here });
    }
  }
  peaks.sort((p, q) => q.prominence - p.prominence);
  return peaks.slice(0, limits.count);
}

type PowerAt = (u: number, v: number) => number;

function isLocalMaximum(at: PowerAt, u: number, v: number, here: number): boolean {
  for (let dv = -1; dv <= 1; dv++) {
    for (let du = -1; du <= 1; du++) if ((du !== 0 || dv !== 0) && at(u + du, v + dv) > here) return false;
  }
  return true;
}

/** Parabola through the logarithms of neighbours, each way. Source: [SMITH-SASP]. */
function summit(at: PowerAt, u: number, v: number, binPerMm: number): { kx: number; ky: number } {
  const log = (x: number): number => Math.log(Math.max(x, 1e-12));
  const here = log(at(u, v));
  const shift = (before: number, after: number): number => {
    const bend = log(before) - 2 * here + log(after);
    return bend < 0 ? Math.max(-0.5, Math.min(0.5, (log(before) - log(after)) / (2 * bend))) : 0;
  };
  return {
    kx: (u + shift(at(u - 1, v), at(u + 1, v))) * binPerMm,
    ky: (v + shift(at(u, v - 1), at(u, v + 1))) * binPerMm,
  };
}

/** Mean power along the peak's own direction, at shorter and longer waves: a brush leaves a ridge there, stripes a gap. */
const RADII = [0.62, 0.68, 0.74, 0.8, 1.24, 1.32, 1.4, 1.5, 1.6] as const;

function alongDirection(at: PowerAt, u: number, v: number, highest: number): number {
  let sum = 0;
  let count = 0;
  const radius = Math.sqrt(u * u + v * v);
  for (const scale of RADII) {
    if (radius * scale > highest + 1) continue;
    sum += Math.sqrt(at(Math.round(u * scale), Math.round(v * scale)));
    count++;
  }
  return count === 0 ? 0 : (sum / count) ** 2;
}

/** Background about a bin: square of the mean root over an 11 x 11 square without its middle 5 x 5. */
function rootSums(power: Float32Array, side: number): PowerAt {
  const pad = 8;
  const size = side + 2 * pad;
  const sums = new Float64Array((size + 1) * (size + 1));
  const mask = side - 1;
  for (let y = 0; y < size; y++) {
    let line = 0;
    for (let x = 0; x < size; x++) {
      line += Math.sqrt(power[((y - pad) & mask) * side + ((x - pad) & mask)]);
      sums[(y + 1) * (size + 1) + x + 1] = sums[y * (size + 1) + x + 1] + line;
    }
  }
  const box = (u: number, v: number, half: number): number => {
    const [left, right] = [u - half, u + half + 1];
    const [top, bottom] = [v - half, v + half + 1];
    const read = (x: number, y: number): number => sums[y * (size + 1) + x];
    return read(right, bottom) - read(left, bottom) - read(right, top) + read(left, top);
  };
  return (u, v) => {
    const x = (u & mask) + pad;
    const y = (v & mask) + pad;
    return ((box(x, y, 5) - box(x, y, 2)) / 96) ** 2;
  };
}
