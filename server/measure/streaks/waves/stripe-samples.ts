import type { PhaseMap } from './phase-map.ts';
import type { WeighedSurface } from '../surface/reduce-surface.ts';

/** Colours of pixels where even stripes are strong, and where each lies in cycles: whole cycles count stripes. */
export interface StripeSamples {
  readonly count: number;
  readonly cycles: Float64Array;
  readonly L: Float32Array;
  readonly a: Float32Array;
  readonly b: Float32Array;
  /** Probability of lack of dwell; null where nobody told. */
  readonly underDwell: Float32Array | null;
}

/** Pixels that are looked at: enough for means over a fortieth of a period that are steady to a tenth of a pixel's noise. */
const MOST_SAMPLES = 140_000;

export function sampleStripes(surface: WeighedSurface, phase: PhaseMap): StripeSamples {
  const { width, height, stepMm, weight } = surface;
  // An odd stride runs through all columns and rows in turn.
  const stride = Math.max(1, Math.floor((width * height) / MOST_SAMPLES)) | 1;
  const room = Math.ceil((width * height) / stride);
  const cycles = new Float64Array(room);
  const [L, a, b] = [new Float32Array(room), new Float32Array(room), new Float32Array(room)];
  const { underDwell: told } = surface;
  const underDwell = told === null ? null : new Float32Array(room);
  let count = 0;
  for (let i = 0; i < width * height; i += stride) {
    if (weight[i] === 0) continue;
    const row = (i / width) | 0;
    const x = (i - row * width + 0.5) * stepMm;
    const y = (row + 0.5) * stepMm;
    if (!phase.isStrong(x, y)) continue;
    cycles[count] = phase.cyclesAt(x, y);
    L[count] = surface.L[i];
    a[count] = surface.a[i];
    b[count] = surface.b[i];
    if (told !== null && underDwell !== null) underDwell[count] = told[i];
    count++;
  }
  return { count, cycles, L, a, b, underDwell };
}
