import type { StripeSamples } from './stripe-samples.ts';

/** How lack of dwell follows even stripes. */
export interface DwellWave {
  /** Amplitude of its change with the stripes: of the first harmonic, 2 / pi where it is told of exactly half of each period. */
  readonly amplitude: number;
  readonly mean: number;
}

/** Null where nobody told lack of dwell, or nothing was sampled. */
export function dwellWave({ count, cycles, underDwell }: StripeSamples): DwellWave | null {
  if (underDwell === null || count === 0) return null;
  let [sum, re, im] = [0, 0, 0];
  for (let i = 0; i < count; i++) {
    const angle = 2 * Math.PI * cycles[i];
    sum += underDwell[i];
    re += underDwell[i] * Math.cos(angle);
    im += underDwell[i] * Math.sin(angle);
  }
  return { amplitude: (2 * Math.hypot(re, im)) / count, mean: sum / count };
}
