import { describe, expect, it } from 'vitest';
import { ciede2000 } from '../../../../../server/measure/colour/ciede2000.ts';
import { colourAxes } from '../../../../../server/measure/streaks/surface/colour-axes.ts';
import type { ReducedSurface } from '../../../../../server/measure/streaks/surface/reduce-surface.ts';

/** A surface about one colour whose chroma varies along one direction. */
function surfaceAbout(L: number, a: number, b: number, along: readonly [number, number]): ReducedSurface {
  const n = 101;
  const share = (i: number): number => (i - 50) / 500;
  return {
    width: n,
    height: 1,
    stepMm: 1,
    weight: new Float32Array(n).fill(1),
    L: new Float32Array(n).fill(L),
    a: Float32Array.from({ length: n }, (_, i) => a + share(i) * along[0]),
    b: Float32Array.from({ length: n }, (_, i) => b + share(i) * along[1]),
    residue: null,
    underDwell: null,
  };
}

describe('the two signals of a colour', () => {
  it.each([
    [60, 2, 4, [1, 1]],
    [45, 12, 20, [2, 1]],
    [70, -1, -5, [0, 1]],
  ] as const)('measure small steps from L* %d a* %d b* %d in CIEDE2000', (L, a, b, along) => {
    const axes = colourAxes(surfaceAbout(L, a, b, along));
    for (const [dL, d] of [
      [0.02, 0],
      [0, 0.02],
      [-0.01, 0.015],
    ]) {
      const [da, db] = [d * along[0], d * along[1]];
      const light = axes.lightnessPerL * dL;
      const chroma = axes.chromaPerA * da + axes.chromaPerB * db;
      const difference = ciede2000({ L, a, b }, { L: L + dL, a: a + da, b: b + db });
      expect(Math.hypot(light, chroma) / difference).toBeCloseTo(1, 1);
    }
  });

  it('count more yellow and red as more chroma', () => {
    const axes = colourAxes(surfaceAbout(50, 5, 8, [1, 2]));
    expect(axes.chromaPerA + axes.chromaPerB).toBeGreaterThan(0);
  });
});
