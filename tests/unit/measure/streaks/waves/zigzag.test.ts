import { describe, expect, it } from 'vitest';
import type { WaveVector } from '../../../../../server/measure/streaks/waves/stripe-blocks.ts';
import { areFamilies, meanOfFamilies } from '../../../../../server/measure/streaks/waves/zigzag.ts';

const waveOf = (pitchMm: number, degrees: number): WaveVector => ({
  kx: Math.cos((degrees * Math.PI) / 180) / pitchMm,
  ky: Math.sin((degrees * Math.PI) / 180) / pitchMm,
});

/** Families of strokes that lie `pitchMm` apart and lean by so much. Source: geometry of the zig-zag. */
const familiesOf = (pitchMm: number, degrees: number, lean: number): [WaveVector, WaveVector] => {
  const apart = 2 * pitchMm * Math.cos((lean * Math.PI) / 180);
  return [waveOf(apart, degrees + lean), waveOf(apart, degrees - lean)];
};

describe('the two families of a zigzag', () => {
  it.each([
    { pitchMm: 7.8, degrees: 80, lean: 8 },
    { pitchMm: 13.7, degrees: 171, lean: 19.6 },
    { pitchMm: 3, degrees: 2, lean: 25 },
  ])('have the strokes as their mean: $pitchMm mm, $degrees degrees', ({ pitchMm, degrees, lean }) => {
    const [p, q] = familiesOf(pitchMm, degrees, lean);
    expect(areFamilies(p, q)).toBe(true);
    // A wave is the same the other way round.
    for (const other of [q, { kx: -q.kx, ky: -q.ky }]) {
      const { kx, ky } = meanOfFamilies(p, other);
      expect(1 / Math.hypot(kx, ky)).toBeCloseTo(pitchMm, 9);
      expect(Math.tan(Math.atan2(ky, kx))).toBeCloseTo(Math.tan((degrees * Math.PI) / 180), 6);
    }
  });

  it('are neither one wave told twice, nor crossing passes, nor stripes of two spacings', () => {
    const first = waveOf(20, 40);
    expect(areFamilies(first, first)).toBe(false);
    expect(areFamilies(first, waveOf(20.4, 47))).toBe(false);
    expect(areFamilies(first, waveOf(20, 130))).toBe(false);
    expect(areFamilies(first, waveOf(23, 70))).toBe(false);
  });
});
