import type { LabPlanes } from '../colour/lab-planes.ts';
import type { ByteMask, Plane } from '../raster/plane.ts';

/** Means of the usable pixels over square cells: the raster on which streaks are sought. */
export interface ReducedSurface {
  readonly width: number;
  readonly height: number;
  /** Side of a cell, mm. */
  readonly stepMm: number;
  /** Usable share of each cell, 0..1. */
  readonly weight: Float32Array;
  /** Mean Lab of the usable part; 0 where nothing is usable. */
  readonly L: Float32Array;
  readonly a: Float32Array;
  readonly b: Float32Array;
  /** Mean probability of residue, or null where nobody gave one. */
  readonly residue: Float32Array | null;
}

export interface ReduceOptions {
  readonly lab: LabPlanes;
  readonly usable: ByteMask;
  readonly residue: Plane | null;
  /** Side of an input pixel, mm. */
  readonly stepMm: number;
  /** Whole number of pixels to a cell's side. */
  readonly factor: number;
}

/** Cells that the picture fills in part only count with the part that it fills. */
export function reduceSurface({ lab, usable, residue, stepMm, factor }: ReduceOptions): ReducedSurface {
  const width = Math.ceil(usable.width / factor);
  const height = Math.ceil(usable.height / factor);
  const cells = (): Float32Array => new Float32Array(width * height);
  const surface = { width, height, stepMm: stepMm * factor, weight: cells(), L: cells(), a: cells(), b: cells() };
  const held = residue === null ? null : cells();
  sumCells({ usable, factor, width }, surface.weight, [
    [lab.L.values, surface.L],
    [lab.a.values, surface.a],
    [lab.b.values, surface.b],
    ...(residue === null || held === null ? [] : [[residue.values, held] as const]),
  ]);
  const { weight } = surface;
  for (const sums of [surface.L, surface.a, surface.b, ...(held === null ? [] : [held])]) {
    for (let i = 0; i < sums.length; i++) if (weight[i] > 0) sums[i] /= weight[i];
  }
  const full = 1 / (factor * factor);
  for (let i = 0; i < weight.length; i++) weight[i] *= full;
  return { ...surface, residue: held };
}

function sumCells(
  from: { usable: ByteMask; factor: number; width: number },
  counts: Float32Array,
  pairs: readonly (readonly [values: Float32Array, sums: Float32Array])[],
): void {
  const { usable, factor, width } = from;
  for (let row = 0, i = 0; row < usable.height; row++) {
    const start = Math.floor(row / factor) * width;
    for (let cell = start, column = 0; column < usable.width; cell++) {
      const end = Math.min(usable.width, column + factor);
      for (; column < end; column++, i++) {
        if (usable.values[i] === 0) continue;
        counts[cell]++;
        for (const [values, sums] of pairs) sums[cell] += values[i];
      }
    }
  }
}
