import { describe, expect, it } from 'vitest';
import { reduceSurface } from '../../../../../server/measure/streaks/surface/reduce-surface.ts';
import type { WeighedSurface } from '../../../../../server/measure/streaks/surface/reduce-surface.ts';

function surface(width: number, height: number, L: readonly number[], weight: readonly number[]): WeighedSurface {
  const values = Float32Array.from(L);
  return {
    width,
    height,
    stepMm: 0.25,
    weight: Uint8Array.from(weight),
    L: values,
    a: values,
    b: values,
    residue: null,
  };
}

describe('a surface on larger cells', () => {
  // By hand: 4 x 2 pixels, one of them not usable.
  it('has the mean of the usable pixels in each cell, and their share', () => {
    const reduced = reduceSurface(surface(4, 2, [1, 3, 10, 20, 5, 7, 30, 99], [1, 1, 1, 1, 1, 1, 1, 0]), 2);
    expect([reduced.width, reduced.height, reduced.stepMm]).toEqual([2, 1, 0.5]);
    expect([...reduced.L]).toEqual([4, 20]);
    expect([...reduced.weight]).toEqual([1, 0.75]);
  });

  it('counts cells at the rim with the part that the picture fills', () => {
    const reduced = reduceSurface(surface(3, 1, [2, 4, 8], [1, 1, 1]), 2);
    expect([...reduced.L]).toEqual([3, 8]);
    expect([...reduced.weight]).toEqual([0.5, 0.25]);
  });

  it('keeps pixels as they are with a factor of 1', () => {
    const source = surface(2, 2, [1, 2, 3, 4], [1, 0, 1, 1]);
    expect([...reduceSurface(source, 1).L]).toEqual([1, 2, 3, 4]);
  });

  it('gives the same in one step as in two', () => {
    const L = Array.from({ length: 64 }, (_, i) => (i * 37) % 19);
    const weight = L.map((v) => (v === 5 ? 0 : 1));
    const once = reduceSurface(surface(8, 8, L, weight), 4);
    const twice = reduceSurface(reduceSurface(surface(8, 8, L, weight), 2), 2);
    once.L.forEach((v, i) => {
      expect(twice.L[i]).toBeCloseTo(v, 4);
    });
    once.weight.forEach((v, i) => {
      expect(twice.weight[i]).toBeCloseTo(v, 6);
    });
  });
});
