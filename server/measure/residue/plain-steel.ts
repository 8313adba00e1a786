import { CLASS_CODE } from '../../domain/index.ts';
import { ciede2000Metric } from '../colour/ciede2000.ts';
import type { LabPlanes } from '../colour/lab-planes.ts';
import { boxCount, boxMeans } from '../raster/box-mean.ts';
import { maskedMean } from '../raster/masked-mean.ts';
import { byteMask } from '../raster/plane.ts';
import type { ByteMask } from '../raster/plane.ts';

export interface ClassedSurface {
  readonly lab: LabPlanes;
  /** CLASS_CODE per pixel; 0 is not measured. */
  readonly codes: ByteMask;
  /** 1 inside the zone: what lies beyond its outline is no reason to keep away. */
  readonly zone: ByteMask;
  readonly stepMm: number;
}

/**
 * Distances from everything that is not bare, mm, from the one wished for downwards: blur and faint halos of residue reach
 * over its rim. The first one counts that leaves enough to judge.
 */
const KEPT_AWAY_MM = [2, 1.5, 1, 0.75, 0.5] as const;
const ENOUGH_MM2 = 40;
const LEAST_PIXELS = 400;
/**
 * A pixel this many standard deviations off its surroundings is a speck of something else, and so is what lies near it;
 * deviations are those of its part of the surface, which may be rougher than others.
 */
const SPECK_SIGMAS = 4;
const SPECK_REACH_MM = 0.75;
const ROUNDS = 2;
const PART_MM = 12;
const LEAST_IN_PART = 100;
/** Median of a squared standard normal deviate. */
const MEDIAN_SQUARE = 0.455;
/** Radius of the box that, applied twice, smooths away the band of texture, mm. */
const SMOOTH_MM = 0.9;

/**
 * Where the steel itself is seen: bare, away from what is not, and without specks of residue that are too small for a class
 * of their own.
 * @param enoughMm2 so much is enough to judge
 * @returns null where too little is left
 */
export function plainSteel(surface: ClassedSurface, enoughMm2 = ENOUGH_MM2): ByteMask | null {
  const { codes, zone, stepMm } = surface;
  const other = byteMask(codes.width, codes.height);
  for (let i = 0; i < other.values.length; i++) {
    other.values[i] = zone.values[i] !== 0 && codes.values[i] !== CLASS_CODE.bare ? 1 : 0;
  }
  let best: ByteMask | null = null;
  for (const distanceMm of KEPT_AWAY_MM) {
    const mask = withoutSpecks(surface, awayFrom(other, surface, distanceMm));
    const count = countOf(mask);
    if (count >= LEAST_PIXELS) best = mask;
    if (count * stepMm * stepMm >= enoughMm2) return best;
  }
  return best;
}

function awayFrom(other: ByteMask, { codes, stepMm }: ClassedSurface, distanceMm: number): ByteMask {
  const near = boxCount(other, Math.max(1, Math.round(distanceMm / stepMm))).values;
  const mask = byteMask(codes.width, codes.height);
  for (let i = 0; i < mask.values.length; i++) {
    mask.values[i] = codes.values[i] === CLASS_CODE.bare && near[i] === 0 ? 1 : 0;
  }
  return mask;
}

function withoutSpecks(surface: ClassedSurface, steel: ByteMask): ByteMask {
  const reach = Math.max(1, Math.round(SPECK_REACH_MM / surface.stepMm));
  let mask = steel;
  for (let round = 0; round < ROUNDS; round++) {
    if (countOf(mask) < LEAST_PIXELS) return mask;
    const squares = squaresOffSurroundings(surface, mask);
    const near = boxCount(specksAmong(squares, mask, Math.round(PART_MM / surface.stepMm)), reach).values;
    const left = byteMask(mask.width, mask.height);
    for (let i = 0; i < near.length; i++) left.values[i] = mask.values[i] !== 0 && near[i] === 0 ? 1 : 0;
    mask = left;
  }
  return mask;
}

function specksAmong(squares: Float32Array, mask: ByteMask, side: number): ByteMask {
  const { width, height } = mask;
  const specks = byteMask(width, height);
  const whole = median(squares.filter((_, i) => mask.values[i] !== 0));
  for (let top = 0; top < height; top += side) {
    for (let left = 0; left < width; left += side) {
      const places = placesIn(mask, { left, top, side });
      const usual = places.length < LEAST_IN_PART ? whole : median(Float32Array.from(places, (i) => squares[i]));
      const most = (SPECK_SIGMAS ** 2 * usual) / MEDIAN_SQUARE;
      for (const i of places) if (squares[i] > most) specks.values[i] = 1;
    }
  }
  return specks;
}

function placesIn(
  { width, height, values }: ByteMask,
  { left, top, side }: { left: number; top: number; side: number },
): number[] {
  const places: number[] = [];
  for (let row = top; row < Math.min(height, top + side); row++) {
    for (let column = left; column < Math.min(width, left + side); column++) {
      if (values[row * width + column] !== 0) places.push(row * width + column);
    }
  }
  return places;
}

/** Squared CIEDE2000 between each pixel and its smoothed surroundings inside the mask. */
function squaresOffSurroundings({ lab, stepMm }: ClassedSurface, mask: ByteMask): Float32Array {
  const radius = Math.max(1, Math.round(SMOOTH_MM / stepMm));
  const counts = boxCount(mask, radius);
  const once = boxMeans([lab.L, lab.a, lab.b], mask, radius, counts);
  const smooth = boxMeans(once, mask, radius, counts).map(({ values }) => values);
  const [L, a, b] = smooth.map((values) => maskedMean(values, mask));
  const G = ciede2000Metric({ L, a, b });
  const squares = new Float32Array(mask.values.length);
  for (let i = 0; i < squares.length; i++) {
    if (mask.values[i] === 0) continue;
    const dL = lab.L.values[i] - smooth[0][i];
    const da = lab.a.values[i] - smooth[1][i];
    const db = lab.b.values[i] - smooth[2][i];
    squares[i] = G[0] * dL * dL + G[4] * da * da + G[8] * db * db + 2 * G[5] * da * db;
  }
  return squares;
}

/** Sorts its argument. */
const median = (values: Float32Array): number => values.sort()[values.length >> 1];

function countOf(mask: ByteMask): number {
  let count = 0;
  for (const value of mask.values) count += value;
  return count;
}
