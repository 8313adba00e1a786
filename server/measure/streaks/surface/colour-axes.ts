import { ciede2000Metric } from '../../colour/ciede2000.ts';
import type { Lab } from '../../colour/cie-lab.ts';
import type { ReducedSurface } from './reduce-surface.ts';

/**
 * Rows that turn a small step (dL, da, db) from a mean colour into two signals whose squares add to CIEDE2000 squared: one of
 * lightness, one of chroma in the direction in which the surface's chroma varies most. More chroma is more yellow or red.
 * Valid for steps of a few dE00: the metric is taken at the mean.
 */
export interface ColourAxes {
  readonly mean: Lab;
  readonly lightnessPerL: number;
  readonly chromaPerA: number;
  readonly chromaPerB: number;
}

export function colourAxes(surface: ReducedSurface): ColourAxes {
  const mean = meanLab(surface);
  const metric = ciede2000Metric(mean);
  // Cholesky factor of the metric's chroma block: rows of (da, db) whose squares add to the metric.
  const root = Math.sqrt(metric[4]);
  const first = [root, metric[5] / root] as const;
  const second = [0, Math.sqrt(Math.max(0, metric[8] - first[1] * first[1]))] as const;
  const turn = mainDirection(surface, mean, [first, second]);
  const [chromaPerA, chromaPerB] = [turn[0] * first[0] + turn[1] * second[0], turn[0] * first[1] + turn[1] * second[1]];
  const sign = chromaPerA + 2 * chromaPerB < 0 ? -1 : 1;
  return { mean, lightnessPerL: Math.sqrt(metric[0]), chromaPerA: sign * chromaPerA, chromaPerB: sign * chromaPerB };
}

function meanLab({ L, a, b, weight }: ReducedSurface): Lab {
  const sum = { L: 0, a: 0, b: 0, weight: 0 };
  for (let i = 0; i < weight.length; i++) {
    const w = weight[i];
    if (w === 0) continue;
    sum.L += w * L[i];
    sum.a += w * a[i];
    sum.b += w * b[i];
    sum.weight += w;
  }
  const n = Math.max(sum.weight, 1e-9);
  return { L: sum.L / n, a: sum.a / n, b: sum.b / n };
}

/** Unit vector of the largest variance of the two chroma coordinates. */
function mainDirection(
  surface: ReducedSurface,
  mean: Lab,
  [first, second]: readonly (readonly [number, number])[],
): [number, number] {
  let [xx, xy, yy] = [0, 0, 0];
  for (let i = 0; i < surface.weight.length; i++) {
    const w = surface.weight[i];
    if (w === 0) continue;
    const da = surface.a[i] - mean.a;
    const db = surface.b[i] - mean.b;
    const x = first[0] * da + first[1] * db;
    const y = second[0] * da + second[1] * db;
    xx += w * x * x;
    xy += w * x * y;
    yy += w * y * y;
  }
  const angle = 0.5 * Math.atan2(2 * xy, xx - yy);
  return [Math.cos(angle), Math.sin(angle)];
}
