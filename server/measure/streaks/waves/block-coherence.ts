import type { StripeBlocks } from './stripe-blocks.ts';

/** How well cells carry on each other's wave: 1 perfectly, about 1 / sqrt(pairs) by chance. */
export interface BlockCoherence {
  readonly along: number;
  readonly across: number;
  /** From a cell to the next but one across. */
  readonly acrossTwice: number;
  /** Pairs of cells across that took part. */
  readonly pairs: number;
}

type Wave = Pick<StripeBlocks, 're' | 'im' | 'weight' | 'alongCount' | 'acrossCount'>;

export function blockCoherence(wave: Wave): BlockCoherence {
  const across = neighbourProduct(wave, 0, 1);
  return {
    along: neighbourProduct(wave, 1, 0).coherence,
    across: across.coherence,
    acrossTwice: neighbourProduct(wave, 0, 2).coherence,
    pairs: across.pairs,
  };
}

/** Mean product of cells so many rows and columns apart: its turn is the mean advance of the phase, radians. */
export function neighbourProduct(
  wave: Wave,
  rows: number,
  columns: number,
): { coherence: number; turn: number; pairs: number } {
  const { alongCount, acrossCount, weight, re, im } = wave;
  let [productRe, productIm, energy, pairs] = [0, 0, 0, 0];
  for (let row = 0; row + rows < alongCount; row++) {
    for (let column = 0; column + columns < acrossCount; column++) {
      const i = row * acrossCount + column;
      const j = i + rows * acrossCount + columns;
      const w = Math.min(weight[i], weight[j]);
      if (w === 0) continue;
      productRe += w * (re[j] * re[i] + im[j] * im[i]);
      productIm += w * (im[j] * re[i] - re[j] * im[i]);
      energy += (w * (re[i] ** 2 + im[i] ** 2 + re[j] ** 2 + im[j] ** 2)) / 2;
      pairs++;
    }
  }
  return {
    coherence: energy > 0 ? Math.hypot(productRe, productIm) / energy : 0,
    turn: Math.atan2(productIm, productRe),
    pairs,
  };
}
