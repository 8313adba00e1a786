import type { StreakSignal } from '../../server/measure/streaks/surface/streak-signal.ts';

export const SIGNAL_STEP_MM = 0.5;

/** A signal of lightness alone, everywhere usable. @param valueAt of a place in mm, from the corner */
export function streakSignalOf(width: number, height: number, valueAt: (x: number, y: number) => number): StreakSignal {
  const lightness = new Float32Array(width * height);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      lightness[y * width + x] = valueAt((x + 0.5) * SIGNAL_STEP_MM, (y + 0.5) * SIGNAL_STEP_MM);
    }
  }
  const weight = new Float32Array(width * height).fill(1);
  return { width, height, stepMm: SIGNAL_STEP_MM, weight, lightness, chroma: new Float32Array(width * height) };
}
