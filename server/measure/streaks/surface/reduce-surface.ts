/** A surface in Lab with a weight per pixel: the working raster itself, or means over square cells of it. */
export interface WeighedSurface {
  readonly width: number;
  readonly height: number;
  /** Side of a pixel or cell, mm. */
  readonly stepMm: number;
  /** Usable share, 0..1. */
  readonly weight: Uint8Array | Float32Array;
  /** Mean Lab of the usable part; anything where nothing is usable. */
  readonly L: Float32Array;
  readonly a: Float32Array;
  readonly b: Float32Array;
  /** Mean probability of residue, or null where nobody gave one. */
  readonly residue: Float32Array | null;
  /** Mean probability that dwell was lacking, or null where nobody told. */
  readonly underDwell: Float32Array | null;
}

/** Means over square cells: the raster on which streaks are sought. */
export interface ReducedSurface extends WeighedSurface {
  readonly weight: Float32Array;
}

/**
 * Means of the usable pixels over cells of factor x factor pixels. Cells that the picture fills in part only count with the
 * part that it fills.
 * @param factor whole number >= 1
 */
export function reduceSurface(source: WeighedSurface, factor: number): ReducedSurface {
  if (factor === 1) return { ...source, weight: Float32Array.from(source.weight) };
  const width = Math.ceil(source.width / factor);
  const height = Math.ceil(source.height / factor);
  const cells = (): Float32Array => new Float32Array(width * height);
  const weight = cells();
  const [L, a, b] = [cells(), cells(), cells()];
  const shares = (['residue', 'underDwell'] as const).map((name) => {
    const from = source[name];
    return from === null ? null : { from, to: cells() };
  });
  const given = shares.filter((share) => share !== null);
  for (let row = 0, i = 0; row < source.height; row++) {
    const start = Math.floor(row / factor) * width;
    for (let cell = start, column = 0; column < source.width; cell++) {
      const end = Math.min(source.width, column + factor);
      let [n, sumL, sumA, sumB] = [0, 0, 0, 0];
      const first = i;
      for (; column < end; column++, i++) {
        const w = source.weight[i];
        if (w === 0) continue;
        n += w;
        sumL += w * source.L[i];
        sumA += w * source.a[i];
        sumB += w * source.b[i];
      }
      weight[cell] += n;
      L[cell] += sumL;
      a[cell] += sumA;
      b[cell] += sumB;
      for (const { from, to } of given) {
        for (let k = first; k < i; k++) to[cell] += source.weight[k] * from[k];
      }
    }
  }
  finishCells(weight, [L, a, b, ...given.map(({ to }) => to)], factor);
  const [residue, underDwell] = shares.map((share) => share?.to ?? null);
  return { width, height, stepMm: source.stepMm * factor, weight, L, a, b, residue, underDwell };
}

function finishCells(weight: Float32Array, sums: readonly Float32Array[], factor: number): void {
  const full = 1 / (factor * factor);
  for (let i = 0; i < weight.length; i++) {
    if (weight[i] === 0) continue;
    for (const values of sums) values[i] /= weight[i];
    weight[i] *= full;
  }
}
