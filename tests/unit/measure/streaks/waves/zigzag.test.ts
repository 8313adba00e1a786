import { describe, expect, it } from 'vitest';
import type { WaveVector } from '../../../../../server/measure/streaks/waves/stripe-blocks.ts';
import {
  areFamilies,
  areSidesOf,
  areTwins,
  meanOfFamilies,
  staysOnPeak,
} from '../../../../../server/measure/streaks/waves/zigzag.ts';

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
    { pitchMm: 12, degrees: 130, lean: 33.7 },
    { pitchMm: 20.6, degrees: 40, lean: 36.9 },
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

describe('twins', () => {
  const one = {
    amplitude: 1,
    prominence: 40,
    driftBins: 0.1,
    coherence: { along: 0.4, across: 0.6, acrossTwice: 0.5, pairs: 90 },
  };

  it('are as large as one another, stand out, stay on their peak and carry on', () => {
    expect(areTwins(one, { ...one, amplitude: 1.15 })).toBe(true);
    expect(areTwins({ ...one, amplitude: 1.15 }, one)).toBe(true);
    const coherence = { ...one.coherence, along: 0.1 };
    for (const change of [
      { amplitude: 1.3 },
      { amplitude: 0.7 },
      { prominence: 8 },
      { driftBins: 0.6 },
      { coherence },
    ]) {
      expect(areTwins(one, { ...one, ...change })).toBe(false);
      expect(areTwins({ ...one, ...change }, one)).toBe(false);
    }
  });
});

describe('strokes and their two sides', () => {
  const strokes = waveOf(10, 30);
  const along = { kx: -Math.sin(Math.PI / 6) / 40, ky: Math.cos(Math.PI / 6) / 40 };
  const parted = (share: number): [WaveVector, WaveVector] => [
    { kx: share * strokes.kx + along.kx, ky: share * strokes.ky + along.ky },
    { kx: (1 - share) * strokes.kx - along.kx, ky: (1 - share) * strokes.ky - along.ky },
  ];

  it('add up, whether alike in length or not', () => {
    for (const share of [0.5, 0.39]) {
      const [p, q] = parted(share);
      expect(areSidesOf(strokes, p, q)).toBe(true);
      expect(areSidesOf({ kx: -strokes.kx, ky: -strokes.ky }, q, p)).toBe(true);
    }
  });

  it('are no overtones of one wave, and no waves that miss the sum', () => {
    expect(areSidesOf(waveOf(10, 30), waveOf(15, 30), waveOf(30, 30))).toBe(false);
    const [p, q] = parted(0.5);
    expect(areSidesOf(waveOf(11, 30), p, q)).toBe(false);
    expect(areSidesOf(waveOf(10, 36), p, q)).toBe(false);
  });
});

describe('a family', () => {
  it('stays on its peak', () => {
    expect([0.1, 0.32, 0.55, 1.8].map((driftBins) => staysOnPeak({ driftBins }))).toEqual([true, true, false, false]);
  });
});
