import type { ReducedSurface } from './reduce-surface.ts';

/** Steps beyond this, L*, are edges of patches and count no more. */
const MOST_STEP = 2;
/** Cells with less than this usable share are left out. */
const LEAST_WEIGHT = 0.5;

/**
 * Share of the energy of small steps in lightness that lies across a direction: half for a surface that looks alike whichever way
 * it is turned, nearly all for lines of a brush or a grinder along it.
 * Source: the structure tensor, J. Bigün, G. H. Granlund, ICCV 1987 (from memory) [BIGUN1987].
 * @returns of a direction on the raster, radians, the share across it
 */
export function grainAcross({ width, height, weight, L }: ReducedSurface): (angle: number) => number {
  const cut = (step: number): number => Math.max(-MOST_STEP, Math.min(MOST_STEP, step));
  let [xx, xy, yy] = [0, 0, 0];
  for (let y = 0; y + 1 < height; y++) {
    for (let x = 0, i = y * width; x + 1 < width; x++, i++) {
      if (!(weight[i] > LEAST_WEIGHT && weight[i + 1] > LEAST_WEIGHT && weight[i + width] > LEAST_WEIGHT)) continue;
      const [right, down] = [cut(L[i + 1] - L[i]), cut(L[i + width] - L[i])];
      xx += right * right;
      xy += right * down;
      yy += down * down;
    }
  }
  return (angle) => {
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    const across = xx * s * s - 2 * xy * c * s + yy * c * c;
    return xx + yy > 0 ? across / (xx + yy) : 0.5;
  };
}
