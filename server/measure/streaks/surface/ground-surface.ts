import type { WeighedSurface } from './reduce-surface.ts';

/** From this probability of residue on, a pixel is none of the ground, nor are the pixels that touch it: their light is mixed. */
const RESIDUE = 0.5;

/**
 * The surface without its patches of rust, scale and coating: on what is left, faint streaks come out that patches drown.
 * Null where nobody said what is residue.
 */
export function groundSurface(whole: WeighedSurface): WeighedSurface | null {
  const { width, height, residue } = whole;
  if (residue === null) return null;
  const weight = Uint8Array.from(whole.weight, (w) => (w > 0 ? 1 : 0));
  for (let row = 0, i = 0; row < height; row++) {
    for (let column = 0; column < width; column++, i++) {
      if (residue[i] < RESIDUE) continue;
      weight[i] = 0;
      if (column > 0) weight[i - 1] = 0;
      if (column + 1 < width) weight[i + 1] = 0;
      if (row > 0) weight[i - width] = 0;
      if (row + 1 < height) weight[i + width] = 0;
    }
  }
  return { ...whole, weight };
}
