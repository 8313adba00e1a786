import { ciede2000Metric } from '../colour/ciede2000.ts';
import type { LabPlanes } from '../colour/lab-planes.ts';
import { maskedMean } from '../raster/masked-mean.ts';
import type { ByteMask } from '../raster/plane.ts';
import { bandLags } from './texture-band.ts';
import type { Lag } from './texture-band.ts';

/** Texture of a surface in the band of 0.5 to 5 mm. */
export interface Texture {
  /** Mean square, CIEDE2000 squared. May come out below zero by chance where there is next to none. */
  readonly square: number;
  /** Standard deviation of `square` that the surface's own unevenness leaves. */
  readonly sigma: number;
}

export interface TexturedArea {
  readonly lab: LabPlanes;
  /** Pixels that count (1). */
  readonly mask: ByteMask;
  readonly stepMm: number;
}

/** Places that are compared with their surroundings; of larger areas as many are drawn. */
const MOST_PLACES = 15_000;
/** Parts that are left out in turn to see how uneven the surface is: wider than anything in the band. */
const PART_MM = 12;

/**
 * Mean square of what a filter for the band would leave, had it been used on the whole surface: a filter whose weights sum to
 * zero leaves minus the sum of its autocorrelation times the variogram. The variogram is taken from pairs of pixels that both
 * count, so that gaps, rims and narrow ground change its scatter and not its value. Colour differences by the local
 * CIEDE2000 metric at the mean colour. Scatter by leaving out one part of 12 mm after another (delete-one jackknife), which
 * counts what hangs together once.
 * Source: [MATHERON1963], [EFRON1982].
 *
 * @returns null where nothing counts
 */
export function textureOf(area: TexturedArea): Texture | null {
  const lags = bandLags(area.stepMm);
  const places = placesOf(area);
  if (places.length === 0) return null;
  const sums = variogramSums(area, places, lags);
  const whole = bandSquare(sums.all, lags);
  const left: number[] = [];
  for (const part of sums.parts.values()) left.push(bandSquare(sums.all, lags, part));
  return { square: whole, sigma: jackknife(left) ?? Math.abs(whole) / 2 };
}

/** One part says nothing about scatter: null. */
function jackknife(left: readonly number[]): number | null {
  const count = left.length;
  if (count < 2) return null;
  const mean = left.reduce((sum, v) => sum + v, 0) / count;
  return Math.sqrt(((count - 1) / count) * left.reduce((sum, v) => sum + (v - mean) ** 2, 0));
}

/** Pixels that count, thinned out at random (by a hash of the place: the same each time) where there are many. */
function placesOf({ mask }: TexturedArea): Uint32Array {
  let count = 0;
  for (const value of mask.values) if (value !== 0) count++;
  const threshold = count <= MOST_PLACES ? 2 ** 32 : (MOST_PLACES / count) * 2 ** 32;
  const places = new Uint32Array(Math.min(count, 2 * MOST_PLACES));
  let n = 0;
  for (let i = 0; i < mask.values.length; i++) {
    if (mask.values[i] === 0 || hash(i) >= threshold || n === places.length) continue;
    places[n++] = i;
  }
  return places.subarray(0, n);
}

/** Mixes the bits of an index. Source: finaliser of MurmurHash3, public domain. */
function hash(index: number): number {
  let h = index;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return (h ^ (h >>> 16)) >>> 0;
}

/** Sums over pairs, per lag: half their squared difference, and their number. */
interface PairSums {
  readonly halves: Float64Array;
  readonly counts: Float64Array;
}

function variogramSums(
  area: TexturedArea,
  places: Uint32Array,
  lags: readonly Lag[],
): { all: PairSums; parts: Map<number, PairSums> } {
  const { mask, stepMm } = area;
  const { width, height } = mask;
  const colour = uniformColour(area);
  const parts = new Map<number, PairSums>();
  const empty = (): PairSums => ({ halves: new Float64Array(lags.length), counts: new Float64Array(lags.length) });
  const side = Math.max(1, Math.round(PART_MM / stepMm));
  const across = Math.ceil(width / side);
  const [dx, dy] = [Int32Array.from(lags, (lag) => lag.dx), Int32Array.from(lags, (lag) => lag.dy)];
  for (const i of places) {
    const x = i % width;
    const y = (i - x) / width;
    const key = Math.floor(y / side) * across + Math.floor(x / side);
    let part = parts.get(key);
    if (part === undefined) parts.set(key, (part = empty()));
    const { halves, counts } = part;
    const [L, a, b] = [colour[3 * i], colour[3 * i + 1], colour[3 * i + 2]];
    for (let k = 0; k < dx.length; k++) {
      const column = x + dx[k];
      const row = y + dy[k];
      if (column < 0 || column >= width || row >= height) continue;
      const j = row * width + column;
      if (mask.values[j] === 0) continue;
      const [u, v, w] = [colour[3 * j] - L, colour[3 * j + 1] - a, colour[3 * j + 2] - b];
      halves[k] += 0.5 * (u * u + v * v + w * w);
      counts[k]++;
    }
  }
  const all = empty();
  for (const { halves, counts } of parts.values()) {
    for (let k = 0; k < lags.length; k++) {
      all.halves[k] += halves[k];
      all.counts[k] += counts[k];
    }
  }
  return { all, parts };
}

function bandSquare(all: PairSums, lags: readonly Lag[], without: PairSums | null = null): number {
  let square = 0;
  for (let k = 0; k < lags.length; k++) {
    const count = all.counts[k] - (without?.counts[k] ?? 0);
    if (count > 0) square -= (lags[k].weight * (all.halves[k] - (without?.halves[k] ?? 0))) / count;
  }
  return square;
}

/** Colours in which the square of a small distance is the square of its CIEDE2000, interleaved; 0 where nothing counts. */
function uniformColour({ lab, mask }: TexturedArea): Float32Array {
  const planes = [lab.L.values, lab.a.values, lab.b.values];
  const [L0, a0, b0] = planes.map((values) => maskedMean(values, mask));
  const G = ciede2000Metric({ L: L0, a: a0, b: b0 });
  // Cholesky factor of the metric; L does not mix with the others.
  const sL = Math.sqrt(G[0]);
  const sa = Math.sqrt(G[4]);
  const mixed = G[5] / sa;
  const sb = Math.sqrt(Math.max(0, G[8] - mixed * mixed));
  const out = new Float32Array(3 * mask.values.length);
  for (let i = 0; i < mask.values.length; i++) {
    if (mask.values[i] === 0) continue;
    const b = planes[2][i] - b0;
    out[3 * i] = sL * (planes[0][i] - L0);
    out[3 * i + 1] = sa * (planes[1][i] - a0) + mixed * b;
    out[3 * i + 2] = sb * b;
  }
  return out;
}
