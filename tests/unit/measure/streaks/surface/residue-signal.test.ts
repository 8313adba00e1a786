import { describe, expect, it } from 'vitest';
import { ciede2000 } from '../../../../../server/measure/colour/ciede2000.ts';
import type { ReducedSurface } from '../../../../../server/measure/streaks/surface/reduce-surface.ts';
import {
  residueSignal,
  residueStep,
  shareSignal,
} from '../../../../../server/measure/streaks/surface/residue-signal.ts';

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
    underDwell: null,
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

describe('shareSignal', () => {
  const [STEP, TREND_MM, PITCH_MM] = [10, 15, 6];
  const surface = banded(0.7);
  const wave = Float32Array.from(
    { length: SIDE * SIDE },
    (_, i) => 0.5 + 0.5 * Math.cos((2 * Math.PI * (i % SIDE)) / PITCH_MM),
  );

  it('is nothing anywhere where nobody told the share', () => {
    const { lightness, chroma } = shareSignal(surface, null, STEP, TREND_MM);
    expect(lightness.every((v) => v === 0)).toBe(true);
    expect(chroma.every((v) => v === 0)).toBe(true);
  });

  it('is nothing where the share is the same throughout', () => {
    const { lightness } = shareSignal(surface, new Float32Array(SIDE * SIDE).fill(0.8), STEP, TREND_MM);
    expect(Math.max(...lightness.map(Math.abs))).toBeLessThan(1e-4);
  });

  // A Gaussian of deviation s passes exp(-2 (pi s f)^2) of a wave: of 6 mm with s = 15 mm nothing, so its mean is taken off.
  it('is darker by the step where all of the share is than where none is, about its mean', () => {
    const { lightness } = shareSignal(surface, wave, STEP, TREND_MM);
    for (let x = 24; x < 36; x++) {
      expect(Math.abs(lightness[30 * SIDE + x] + STEP * (wave[x] - 0.5))).toBeLessThan(0.3);
    }
  });

  it('is of the share alone, whatever the share of residue is', () => {
    const signal = shareSignal(surface, wave, STEP, TREND_MM);
    expect(signal.lightness).toEqual(residueSignal({ ...surface, residue: wave }, STEP, TREND_MM).lightness);
    expect(signal.lightness).not.toEqual(residueSignal(surface, STEP, TREND_MM).lightness);
  });

  it('is nothing where the surface is not usable, and takes no note of what is told there', () => {
    const isUsable = (i: number): boolean => i % SIDE < 30;
    const weight = surface.weight.map((_, i) => (isUsable(i) ? 1 : 0));
    const signalOf = (beyond: number): Float32Array =>
      shareSignal(
        { ...surface, weight },
        wave.map((v, i) => (isUsable(i) ? v : beyond)),
        STEP,
        TREND_MM,
      ).lightness;
    expect(signalOf(1).every((v, i) => isUsable(i) || v === 0)).toBe(true);
    expect(signalOf(1)).toEqual(signalOf(0));
  });
});
