import type { StreakSignal } from './streak-signal.ts';

/** Sums of a signal over cells of a turned raster: rows are strips along the stripes, columns are places across them. */
export interface StripProfiles {
  readonly strips: number;
  readonly bins: number;
  /** Width of a bin across the stripes, mm. */
  readonly binMm: number;
  /** Place across of the first bin's start, mm from the middle. */
  readonly startMm: number;
  /** strips x bins each: sum of weights, and weighted sums of the signals. */
  readonly weight: Float32Array;
  readonly lightness: Float32Array;
  readonly chroma: Float32Array;
}

export interface StripeFrame {
  /** Direction of the stripes on the raster, from +x towards +y, radians. */
  readonly angle: number;
  /** 1 / radius of the stripes, per mm; positive bends their ends towards greater places. */
  readonly bendPerMm: number;
}

export interface Extent {
  readonly middleX: number;
  readonly middleY: number;
  /** Half the diagonal of what is usable, mm. */
  readonly reachMm: number;
}

export function extentOf(signal: { width: number; height: number; stepMm: number; weight: Float32Array }): Extent {
  let [left, right, top, bottom] = [signal.width, -1, signal.height, -1];
  for (let y = 0, i = 0; y < signal.height; y++) {
    for (let x = 0; x < signal.width; x++, i++) {
      if (signal.weight[i] === 0) continue;
      if (x < left) left = x;
      if (x > right) right = x;
      if (y < top) top = y;
      if (y > bottom) bottom = y;
    }
  }
  const { stepMm } = signal;
  return {
    middleX: ((left + right + 1) / 2) * stepMm,
    middleY: ((top + bottom + 1) / 2) * stepMm,
    reachMm: Math.max(1, (Math.hypot(right - left + 1, bottom - top + 1) / 2) * stepMm),
  };
}

export function projectStrips(
  signal: StreakSignal,
  frame: StripeFrame,
  extent: Extent,
  cells: { readonly strips: number; readonly binMm: number },
): StripProfiles {
  const { strips, binMm } = cells;
  const { reachMm } = extent;
  const bins = Math.ceil((2 * reachMm) / binMm) + 1;
  const count = strips * bins;
  const profiles = {
    strips,
    bins,
    binMm,
    startMm: -reachMm,
    weight: new Float32Array(count),
    lightness: new Float32Array(count),
    chroma: new Float32Array(count),
  };
  const { weight, lightness, chroma, width, height, stepMm } = signal;
  const cos = Math.cos(frame.angle);
  const sin = Math.sin(frame.angle);
  const half = frame.bendPerMm / 2;
  const perStrip = strips / (2 * reachMm);
  for (let y = 0, i = 0; y < height; y++) {
    const dy = (y + 0.5) * stepMm - extent.middleY;
    for (let x = 0; x < width; x++, i++) {
      const w = weight[i];
      if (w === 0) continue;
      const dx = (x + 0.5) * stepMm - extent.middleX;
      const along = dx * cos + dy * sin;
      const across = dy * cos - dx * sin - half * along * along;
      const strip = Math.min(strips - 1, Math.max(0, ((along + reachMm) * perStrip) | 0));
      const bin = ((across + reachMm) / binMm) | 0;
      if (bin < 0 || bin >= bins) continue;
      const cell = strip * bins + bin;
      profiles.weight[cell] += w;
      profiles.lightness[cell] += w * lightness[i];
      profiles.chroma[cell] += w * chroma[i];
    }
  }
  return profiles;
}

/**
 * Variance of what all strips have in common after a step filter of half-width `reach` bins: mean product of different,
 * not adjacent strips, so that what is not drawn through from strip to strip averages to nothing.
 */
export function commonVariance(profiles: StripProfiles, channel: 'lightness' | 'chroma', reach: number): number {
  const { strips, bins, weight } = profiles;
  const sums = profiles[channel];
  const steps = new Float64Array(strips);
  const trust = new Float64Array(strips);
  let product = 0;
  let pairs = 0;
  const run = Array.from({ length: strips }, (_, s) => runningSums(sums, weight, s * bins, bins));
  for (let t = reach; t + reach <= bins; t++) {
    let [all, allTrust, same, sameTrust] = [0, 0, 0, 0];
    for (let s = 0; s < strips; s++) {
      const { value, count } = run[s];
      const before = count[t] - count[t - reach];
      const after = count[t + reach] - count[t];
      const n = Math.min(before, after);
      steps[s] = n > 0 ? n * ((value[t + reach] - value[t]) / after - (value[t] - value[t - reach]) / before) : 0;
      trust[s] = n;
      all += steps[s];
      allTrust += n;
      same += steps[s] * steps[s];
      sameTrust += n * n;
    }
    for (let s = 1; s < strips; s++) {
      same += 2 * steps[s] * steps[s - 1];
      sameTrust += 2 * trust[s] * trust[s - 1];
    }
    product += all * all - same;
    pairs += allTrust * allTrust - sameTrust;
  }
  return pairs > 0 ? product / pairs : 0;
}

function runningSums(
  sums: Float32Array,
  weight: Float32Array,
  start: number,
  bins: number,
): { value: Float64Array; count: Float64Array } {
  const value = new Float64Array(bins + 1);
  const count = new Float64Array(bins + 1);
  for (let t = 0; t < bins; t++) {
    value[t + 1] = value[t] + sums[start + t];
    count[t + 1] = count[t] + weight[start + t];
  }
  return { value, count };
}
