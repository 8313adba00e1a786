import type { StreakSignal } from '../surface/streak-signal.ts';

/** How stripes run over a raster. */
export interface StripeFrame {
  /** Direction of the stripes on the raster, from +x towards +y, radians. */
  readonly angle: number;
  /** 1 / radius of the stripes in the middle of the zone, per mm; positive bends their ends towards greater places. */
  readonly bendPerMm: number;
}

/** Middle of the usable part, mm from the raster's corner, and half its diagonal. */
export interface Extent {
  readonly middleX: number;
  readonly middleY: number;
  readonly reachMm: number;
}

/**
 * The signals in strips that lie across the stripes: rows are strips, columns are edges between places across. All sums run
 * from a strip's start, so that the sum over any stretch is one difference.
 */
export interface StripProfiles {
  readonly strips: number;
  readonly bins: number;
  readonly binMm: number;
  /** Length of a strip along the stripes, mm. */
  readonly stripMm: number;
  /** Place across of the first bin's start, mm from the middle. */
  readonly startMm: number;
  /** Weight of a bin that is usable throughout. */
  readonly fullBin: number;
  /** strips x (bins + 1) each: running sums of weights, and of the weighted signals. */
  readonly weight: Float64Array;
  readonly lightness: Float64Array;
  readonly chroma: Float64Array;
}

export interface StripCells {
  readonly strips: number;
  readonly binMm: number;
}

export function extentOf(raster: Pick<StreakSignal, 'width' | 'height' | 'stepMm' | 'weight'>): Extent {
  const { width, height, stepMm, weight } = raster;
  let [left, right, top, bottom] = [width, -1, height, -1];
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      if (weight[i] === 0) continue;
      if (x < left) left = x;
      if (x > right) right = x;
      if (y < top) top = y;
      bottom = y;
    }
  }
  if (right < 0) return { middleX: 0, middleY: 0, reachMm: stepMm };
  return {
    middleX: ((left + right + 1) / 2) * stepMm,
    middleY: ((top + bottom + 1) / 2) * stepMm,
    reachMm: (Math.hypot(right - left + 1, bottom - top + 1) / 2) * stepMm,
  };
}

/**
 * Lays strips across a signal for one frame after the other. Place across the stripes and along them, mm from the middle:
 * across = v - bend u^2 / 2 for u along and v square to it. What one call returns holds until the next: the sums are reused.
 */
export function stripProjector(
  signal: StreakSignal,
  extent: Extent,
  { strips, binMm }: StripCells,
): (frame: StripeFrame) => StripProfiles {
  const { reachMm } = extent;
  const bins = Math.ceil((2 * reachMm) / binMm) + 1;
  const cells = weighedCells(signal, extent);
  const sums = new Float64Array(3 * strips * (bins + 1));
  const running = (): Float64Array => new Float64Array(strips * (bins + 1));
  const [weight, lightness, chroma] = [running(), running(), running()];
  const stripMm = (2 * reachMm) / strips;
  const fullBin = (binMm * stripMm) / signal.stepMm ** 2;
  const profiles = { strips, bins, binMm, stripMm, startMm: -reachMm, fullBin, weight, lightness, chroma };
  return (frame) => {
    addCells(cells, frame, sums.fill(0), profiles);
    [weight, lightness, chroma].forEach((values, part) => {
      runAlong(sums, part, values, bins + 1);
    });
    return profiles;
  };
}

/** What a signal's cells bring to the sums; the raster's cells without weight are left out. */
interface WeighedCells {
  readonly count: number;
  /** From the middle of the usable part, mm. */
  readonly x: Float32Array;
  readonly y: Float32Array;
  /** Weight, and the weighted signals. */
  readonly parts: readonly [weight: Float32Array, lightness: Float32Array, chroma: Float32Array];
}

function weighedCells(signal: StreakSignal, { middleX, middleY }: Extent): WeighedCells {
  const { weight, width, height, stepMm } = signal;
  const cells = (): Float32Array => new Float32Array(weight.length);
  const [x, y, w, light, chroma] = [cells(), cells(), cells(), cells(), cells()];
  let count = 0;
  for (let row = 0, i = 0; row < height; row++) {
    for (let column = 0; column < width; column++, i++) {
      if (weight[i] === 0) continue;
      x[count] = (column + 0.5) * stepMm - middleX;
      y[count] = (row + 0.5) * stepMm - middleY;
      w[count] = weight[i];
      light[count] = weight[i] * signal.lightness[i];
      chroma[count] = weight[i] * signal.chroma[i];
      count++;
    }
  }
  return { count, x, y, parts: [w, light, chroma] };
}

/** Adds cells to three sums side by side per place: weight, lightness, chroma. Each place is an edge: that after its bin. */
function addCells(cells: WeighedCells, frame: StripeFrame, sums: Float64Array, to: StripProfiles): void {
  const { count, x, y, parts } = cells;
  const [weight, lightness, chroma] = parts;
  const { strips, bins, startMm } = to;
  const [cos, sin, half] = [Math.cos(frame.angle), Math.sin(frame.angle), frame.bendPerMm / 2];
  const [perStrip, perBin, columns] = [1 / to.stripMm, 1 / to.binMm, bins + 1];
  for (let i = 0; i < count; i++) {
    const along = x[i] * cos + y[i] * sin;
    const strip = ((along - startMm) * perStrip) | 0;
    const place = (y[i] * cos - x[i] * sin - half * along * along - startMm) * perBin;
    if (place < 0 || place >= bins || strip >= strips) continue;
    const at = 3 * (strip * columns + (place | 0) + 1);
    sums[at] += weight[i];
    sums[at + 1] += lightness[i];
    sums[at + 2] += chroma[i];
  }
}

/** Single sums of one part to running ones, row by row; the first of a row is 0. */
function runAlong(sums: Float64Array, part: number, running: Float64Array, columns: number): void {
  for (let start = 0; start < running.length; start += columns) {
    let sum = 0;
    for (let i = start; i < start + columns; i++) {
      sum += sums[3 * i + part];
      running[i] = sum;
    }
  }
}
