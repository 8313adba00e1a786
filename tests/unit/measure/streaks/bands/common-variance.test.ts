import { describe, expect, it } from 'vitest';
import { commonShare, commonVariance } from '../../../../../server/measure/streaks/bands/common-variance.ts';
import type { StripProfiles } from '../../../../../server/measure/streaks/bands/strip-profiles.ts';

const BINS = 40;

/** Running sums of a value per strip and bin, with weight 1 everywhere. */
function profilesOf(strips: number, valueAt: (strip: number, bin: number) => number): StripProfiles {
  const sums = (f: (strip: number, bin: number) => number): Float64Array => {
    const out = new Float64Array(strips * (BINS + 1));
    for (let s = 0; s < strips; s++) {
      for (let t = 0; t < BINS; t++) out[s * (BINS + 1) + t + 1] = out[s * (BINS + 1) + t] + f(s, t);
    }
    return out;
  };
  const values = sums(valueAt);
  return {
    strips,
    bins: BINS,
    binMm: 1,
    stripMm: 20,
    startMm: -BINS / 2,
    fullBin: 1,
    weight: sums(() => 1),
    lightness: values,
    chroma: values,
  };
}

describe('the variance that all strips have in common', () => {
  it('is nothing on an even surface', () => {
    const profiles = profilesOf(6, () => 3);
    expect(commonVariance(profiles, profiles.lightness, 2)).toBeCloseTo(0, 12);
  });

  // By hand: +1 and -1 by turns of 4 bins under a filter of 4: steps are 2 at an edge, 1 beside it and 0 half way.
  it('is the mean square of the steps where every strip shows the same', () => {
    const profiles = profilesOf(6, (_strip, bin) => (Math.floor(bin / 4) % 2 === 0 ? 1 : -1));
    const steps: number[] = [];
    for (let t = 4; t + 4 <= BINS; t++) steps.push([2, 1, 0, 1][t % 4]);
    const expected = steps.reduce((sum, step) => sum + step * step, 0) / steps.length;
    expect(commonVariance(profiles, profiles.lightness, 4)).toBeCloseTo(expected, 9);
  });

  it('is about nothing where every strip shows something of its own', () => {
    const noise = (strip: number, bin: number): number => Math.sin(12.9898 * (strip * 57 + bin + 1) ** 2);
    const own = profilesOf(12, noise);
    const shared = profilesOf(12, (_strip, bin) => noise(0, bin));
    const ratio = commonVariance(own, own.lightness, 2) / commonVariance(shared, shared.lightness, 2);
    expect(Math.abs(ratio)).toBeLessThan(0.1);
  });

  it('grows with the square of the contrast', () => {
    const bands = (depth: number): StripProfiles => profilesOf(5, (_s, t) => (t > 15 && t < 22 ? depth : 0));
    const [single, double] = [bands(1), bands(2)];
    expect(commonVariance(double, double.chroma, 3)).toBeCloseTo(4 * commonVariance(single, single.chroma, 3), 9);
  });
});

describe('commonShare', () => {
  it('is 1 for the same profile in every strip', () => {
    const same = profilesOf(5, (_s, t) => (t > 15 && t < 22 ? 3 : 0));
    expect(commonShare(same, same.lightness, 3)).toBeCloseTo(1, 9);
  });

  it('is 0 for nothing at all', () => {
    const nothing = profilesOf(5, () => 0);
    expect(commonShare(nothing, nothing.lightness, 3)).toBe(0);
  });

  it('does not change with the depth of the profile', () => {
    const torn = (depth: number): StripProfiles => profilesOf(5, (s, t) => (t > 15 && t < 22 ? depth * (1 + s) : 0));
    const [shallow, deep] = [torn(1), torn(4)];
    expect(commonShare(deep, deep.lightness, 3)).toBeCloseTo(commonShare(shallow, shallow.lightness, 3), 9);
  });
});
