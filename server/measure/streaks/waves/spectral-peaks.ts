import type { WaveVector } from './stripe-blocks.ts';
import type { StripeSpectrum } from './stripe-spectrum.ts';

/** A narrow peak of the spectrum: a set of evenly spaced stripes, if it proves true. */
export interface SpectralPeak {
  readonly wave: WaveVector;
  /** Power over the larger of two backgrounds: about the peak, and along its own direction. */
  readonly prominence: number;
  /** Wave number of one bin of the spectrum, per mm: the peak is that sure within less than one. */
  readonly binPerMm: number;
}

export interface PeakLimits {
  readonly longestMm: number;
  readonly shortestMm: number;
  readonly count: number;
}

/** The most prominent peaks first. */
export function spectralPeaks(spectrum: StripeSpectrum, limits: PeakLimits): SpectralPeak[] {
  const reading = readSpectrum(spectrum);
  const lowest = 1 / limits.longestMm / spectrum.binPerMm;
  const highest = Math.min(1 / limits.shortestMm / spectrum.binPerMm, spectrum.side / 2 - 2);
  const reach = Math.floor(highest);
  const peaks: SpectralPeak[] = [];
  for (let v = -reach; v <= reach; v++) {
    for (let u = 0; u <= reach; u++) {
      const radius = Math.sqrt(u * u + v * v);
      if (radius < lowest || radius > highest || (u === 0 && v < 0) || !isSummit(reading, u, v)) continue;
      peaks.push(peakAt(reading, u, v));
    }
  }
  peaks.sort((p, q) => q.prominence - p.prominence);
  return peaks.slice(0, limits.count);
}

/** Shares of the wave number and radians of direction within which a harmonic of a wave is looked for. */
const NEAR = { radius: 0.06, angle: 0.17 } as const;

/** The strongest place of the spectrum near a wave vector; null where the spectrum does not reach. */
export function strongestNear(spectrum: StripeSpectrum, wave: WaveVector): SpectralPeak | null {
  const reading = readSpectrum(spectrum);
  const [u0, v0] = [wave.kx / spectrum.binPerMm, wave.ky / spectrum.binPerMm];
  const radius = Math.hypot(u0, v0);
  if (radius > spectrum.side / 2 - 3 || radius < 2) return null;
  const reach = Math.ceil(Math.max(1, NEAR.angle * radius));
  return strongestWhere(reading, boxAround(u0, v0, reach), (u, v) => {
    const size = Math.hypot(u, v);
    return (
      Math.abs(size - radius) <= Math.max(0.8, NEAR.radius * radius) &&
      (u * u0 + v * v0) / (size * radius) >= Math.cos(Math.max(NEAR.angle, 1 / radius))
    );
  });
}

/** Which places of a spectrum are looked at, and how strong they are at least. */
export interface PlaceLimits {
  /** No place lies further out, per mm. */
  readonly mostPerMm: number;
  readonly isThere: (wave: WaveVector) => boolean;
  readonly least: { readonly power: number; readonly prominence: number };
}

/** The strongest summit of the spectrum within limits; null where there is none. */
export function strongestWithin(
  spectrum: StripeSpectrum,
  { mostPerMm, isThere, least }: PlaceLimits,
): SpectralPeak | null {
  const reading = readSpectrum(spectrum);
  const { at, binPerMm, highest } = reading;
  const reach = Math.min(highest, Math.ceil(mostPerMm / binPerMm));
  return strongestWhere(
    reading,
    boxAround(0, 0, reach),
    (u, v) =>
      at(u, v) > least.power &&
      isThere({ kx: u * binPerMm, ky: v * binPerMm }) &&
      isSummit(reading, u, v) &&
      prominenceAt(reading, u, v) > least.prominence,
  );
}

/** Bins from the first to the last, each way. */
interface Box {
  readonly u: readonly [first: number, last: number];
  readonly v: readonly [first: number, last: number];
}

function boxAround(u: number, v: number, reach: number): Box {
  const [middleU, middleV] = [Math.round(u), Math.round(v)];
  return { u: [middleU - reach, middleU + reach], v: [middleV - reach, middleV + reach] };
}

function strongestWhere(reading: Reading, box: Box, isTaken: (u: number, v: number) => boolean): SpectralPeak | null {
  let best: { u: number; v: number; power: number } | null = null;
  for (let v = box.v[0]; v <= box.v[1]; v++) {
    for (let u = box.u[0]; u <= box.u[1]; u++) {
      const power = reading.at(u, v);
      if ((best === null || power > best.power) && isTaken(u, v)) best = { u, v, power };
    }
  }
  return best === null ? null : peakAt(reading, best.u, best.v);
}

/** The strongest of the places next to a wave vector. */
export function powerNear(spectrum: StripeSpectrum, { kx, ky }: WaveVector): number {
  const { at, binPerMm } = readSpectrum(spectrum);
  const [u, v] = [Math.round(kx / binPerMm), Math.round(ky / binPerMm)];
  const steps = [-1, 0, 1];
  return Math.max(...steps.flatMap((dv) => steps.map((du) => at(u + du, v + dv))));
}

interface Reading {
  readonly binPerMm: number;
  readonly highest: number;
  readonly at: (u: number, v: number) => number;
  readonly around: (u: number, v: number) => number;
}

const readings = new WeakMap<StripeSpectrum, Reading>();

function readSpectrum(spectrum: StripeSpectrum): Reading {
  const known = readings.get(spectrum);
  if (known !== undefined) return known;
  const { side, power, binPerMm } = spectrum;
  const mask = side - 1;
  const reading = {
    binPerMm,
    highest: side / 2 - 2,
    at: (u: number, v: number): number => power[(v & mask) * side + (u & mask)],
    around: backgroundAround(power, side),
  };
  readings.set(spectrum, reading);
  return reading;
}

const peakAt = (reading: Reading, u: number, v: number): SpectralPeak => ({
  wave: summit(reading, u, v),
  prominence: prominenceAt(reading, u, v),
  binPerMm: reading.binPerMm,
});

function isSummit({ at }: Reading, u: number, v: number): boolean {
  const here = at(u, v);
  for (let dv = -1; dv <= 1; dv++) {
    for (let du = -1; du <= 1; du++) if ((du !== 0 || dv !== 0) && at(u + du, v + dv) > here) return false;
  }
  return true;
}

/** Parabola through the logarithms of neighbours, each way. Source: [SMITH-SASP]. */
function summit({ at, binPerMm }: Reading, u: number, v: number): WaveVector {
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

function prominenceAt(reading: Reading, u: number, v: number): number {
  const background = Math.max(reading.around(u, v), alongDirection(reading, u, v));
  return reading.at(u, v) / Math.max(background, 1e-12);
}

/** Other wave numbers of the same direction, as shares of the peak's: a brush leaves a ridge there, even stripes a gap. */
const RADII = [0.62, 0.68, 0.74, 0.8, 1.24, 1.32, 1.4, 1.5, 1.6] as const;

function alongDirection({ at, highest }: Reading, u: number, v: number): number {
  let sum = 0;
  let count = 0;
  const radius = Math.sqrt(u * u + v * v);
  for (const scale of RADII) {
    if (radius * scale > highest) continue;
    sum += Math.sqrt(at(Math.round(u * scale), Math.round(v * scale)));
    count++;
  }
  return count === 0 ? 0 : (sum / count) ** 2;
}

/** Square of the mean root over an 11 x 11 square without its middle 5 x 5: roots, so that other peaks weigh little. */
function backgroundAround(power: Float32Array, side: number): (u: number, v: number) => number {
  const pad = 6;
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
  const read = (x: number, y: number): number => sums[y * (size + 1) + x];
  const box = (x: number, y: number, half: number): number =>
    read(x + half + 1, y + half + 1) -
    read(x - half, y + half + 1) -
    read(x + half + 1, y - half) +
    read(x - half, y - half);
  return (u, v) => {
    const x = (u & mask) + pad;
    const y = (v & mask) + pad;
    return ((box(x, y, 5) - box(x, y, 2)) / 96) ** 2;
  };
}
