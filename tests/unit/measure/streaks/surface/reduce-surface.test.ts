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
    underDwell: null,
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

  // By hand: the same eight pixels, of which the last is not usable.
  it('has the mean lack of dwell of the usable pixels in each cell, apart from the mean of residue', () => {
    const source: WeighedSurface = {
      ...surface(4, 2, [1, 3, 10, 20, 5, 7, 30, 99], [1, 1, 1, 1, 1, 1, 1, 0]),
      residue: Float32Array.of(1, 1, 0, 0, 1, 1, 0, 1),
      underDwell: Float32Array.of(0, 0.25, 1, 0.5, 0.5, 0.25, 0, 1),
    };
    const reduced = reduceSurface(source, 2);
    expect([...(reduced.underDwell ?? [])]).toEqual([0.25, 0.5]);
    expect([...(reduced.residue ?? [])]).toEqual([1, 0]);
  });

  it('weighs lack of dwell by the usable share of each pixel, as it weighs residue', () => {
    const share = Float32Array.of(1, 0);
    const source = { ...surface(2, 1, [1, 1], [1, 1]), residue: share, underDwell: share };
    const reduced = reduceSurface({ ...source, weight: Float32Array.of(0.25, 0.75) }, 2);
    expect([...(reduced.underDwell ?? [])]).toEqual([0.25]);
    expect([...(reduced.residue ?? [])]).toEqual([0.25]);
  });

  it.each([1, 2])('tells no lack of dwell where nobody told it, with a factor of %i', (factor) => {
    const source = surface(2, 2, [1, 2, 3, 4], [1, 0, 1, 1]);
    const share = Float32Array.of(0, 1, 1, 0);
    const untold = reduceSurface({ ...source, residue: share }, factor);
    expect([untold.underDwell, untold.residue === null]).toEqual([null, false]);
    const told = reduceSurface({ ...source, underDwell: share }, factor);
    expect([told.residue, told.underDwell === null]).toEqual([null, false]);
  });

  it('keeps lack of dwell as it is with a factor of 1', () => {
    const source = { ...surface(2, 2, [1, 2, 3, 4], [1, 0, 1, 1]), underDwell: Float32Array.of(0, 0.25, 0.5, 1) };
    expect([...(reduceSurface(source, 1).underDwell ?? [])]).toEqual([0, 0.25, 0.5, 1]);
  });
});
