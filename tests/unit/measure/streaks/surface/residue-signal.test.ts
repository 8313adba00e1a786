import { describe, expect, it } from 'vitest';
import { ciede2000 } from '../../../../../server/measure/colour/ciede2000.ts';
import type { ReducedSurface } from '../../../../../server/measure/streaks/surface/reduce-surface.ts';
import { residueSignal, residueStep } from '../../../../../server/measure/streaks/surface/residue-signal.ts';

const SIDE = 60;

/** Rust in a band of ten columns, none elsewhere. */
function banded(share: number): ReducedSurface {
  const cells = (valueAt: (column: number) => number): Float32Array =>
    Float32Array.from({ length: SIDE * SIDE }, (_, i) => valueAt(i % SIDE));
  const isBand = (column: number): boolean => column >= 25 && column < 35;
  return {
    width: SIDE,
    height: SIDE,
    stepMm: 1,
    weight: cells(() => 1),
    L: cells((c) => (isBand(c) ? 35 : 65)),
    a: cells((c) => (isBand(c) ? 22 : 0)),
    b: cells((c) => (isBand(c) ? 28 : 2)),
    residue: cells((c) => (isBand(c) ? share : 0)),
  };
}

describe('residueStep', () => {
  it('is the difference in colour between residue and the rest', () => {
    expect(residueStep(banded(1))).toBeCloseTo(ciede2000({ L: 65, a: 0, b: 2 }, { L: 35, a: 22, b: 28 }), 6);
  });

  it('is not there without residue', () => {
    expect(residueStep(banded(0))).toBeNull();
    expect(residueStep({ ...banded(1), residue: null })).toBeNull();
  });
});

describe('residueSignal', () => {
  it('is darker where more residue is, in proportion to its share', () => {
    const deep = (share: number): number => {
      const { lightness } = residueSignal(banded(share), 10, 15);
      return lightness[30 * SIDE + 5] - lightness[30 * SIDE + 30];
    };
    expect(deep(0.8)).toBeGreaterThan(5);
    expect(deep(0.4)).toBeCloseTo(deep(0.8) / 2, 4);
  });
});
