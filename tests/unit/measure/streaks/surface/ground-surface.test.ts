import { describe, expect, it } from 'vitest';
import { groundSurface } from '../../../../../server/measure/streaks/surface/ground-surface.ts';
import type { WeighedSurface } from '../../../../../server/measure/streaks/surface/reduce-surface.ts';

const SIDE = 5;
const MIDDLE = 12;

function surface(residue: Float32Array | null): WeighedSurface {
  const values = new Float32Array(SIDE * SIDE).fill(50);
  const weight = new Uint8Array(SIDE * SIDE).fill(1);
  return {
    width: SIDE,
    height: SIDE,
    stepMm: 0.25,
    weight,
    L: values,
    a: values,
    b: values,
    residue,
    underDwell: null,
  };
}

describe('groundSurface', () => {
  it('sets residue aside, and the four pixels that touch it', () => {
    const residue = new Float32Array(SIDE * SIDE);
    residue[MIDDLE] = 0.9;
    const ground = groundSurface(surface(residue));
    const gone = [...(ground?.weight ?? [])].flatMap((w, i) => (w === 0 ? [i] : []));
    expect(gone).toEqual([7, 11, 12, 13, 17]);
  });

  it('keeps all of a surface without residue', () => {
    expect(groundSurface(surface(new Float32Array(SIDE * SIDE)))?.weight.every((w) => w === 1)).toBe(true);
  });

  it('does not reach round the ends of rows', () => {
    const residue = new Float32Array(SIDE * SIDE);
    residue[SIDE - 1] = 1;
    const ground = groundSurface(surface(residue));
    expect(ground?.weight[SIDE]).toBe(1);
  });

  it('is not there where nobody said what is residue', () => {
    expect(groundSurface(surface(null))).toBeNull();
  });
});
