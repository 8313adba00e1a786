import { describe, expect, it } from 'vitest';
import type { Lab } from '../../../../../server/measure/colour/cie-lab.ts';
import { foldStripes } from '../../../../../server/measure/streaks/waves/fold-stripes.ts';
import { stripeLikeness } from '../../../../../server/measure/streaks/waves/stripe-likeness.ts';
import type { StripeSamples } from '../../../../../server/measure/streaks/waves/stripe-samples.ts';
import { dice } from '../../../../support/lattice-noise.ts';

const NO_BLUR = { pitchMm: 10, stepMm: 0.01, photoPixelMm: 0.01, strayCycles: 0 };
const PERIODS = 12;

function samplesOf(colourAt: (cycles: number) => Lab): StripeSamples {
  const count = 400 * PERIODS;
  const cycles = Float64Array.from({ length: count }, (_, i) => (i + 0.5) / 400);
  const colours = [...cycles].map(colourAt);
  return {
    count,
    cycles,
    L: Float32Array.from(colours, (c) => c.L),
    a: Float32Array.from(colours, (c) => c.a),
    b: Float32Array.from(colours, (c) => c.b),
    underDwell: null,
  };
}

const lab = (L: number, a: number, b: number): Lab => ({ L, a, b });
const placeOf = (cycles: number): number => cycles - Math.floor(cycles);

describe('one period of even stripes', () => {
  // Pairs and differences published with CIEDE2000. Source: [SHARMA2005], supplementary test data, pairs 17, 18 and 20.
  it.each([
    [73, 25, -18, 27.1492],
    [61, -5, 29, 22.8977],
    [58, 24, 15, 19.4535],
  ])('differs from its ground by the published difference to (%d, %d, %d)', (L, a, b, published) => {
    const samples = samplesOf((cycles) => (placeOf(cycles) < 0.3 ? lab(L, a, b) : lab(50, 2.5, 0)));
    expect(foldStripes(samples, NO_BLUR)?.contrast).toBeCloseTo(published, 1);
  });

  it('says which share of it is dark, and where', () => {
    const samples = samplesOf((cycles) => (placeOf(cycles - 0.4) < 0.25 ? lab(35, 8, 14) : lab(62, 0, 3)));
    const folded = foldStripes(samples, NO_BLUR);
    expect(folded?.darkShare).toBeCloseTo(0.25, 2);
    expect(folded?.darkCycle).toBeCloseTo(0.525, 2);
    expect(folded?.colourTurn).toBeLessThan(0.02);
  });

  it('keeps its contrast when all of it is a little brighter', () => {
    const contrast = (lift: number): number =>
      foldStripes(
        samplesOf((cycles) => lab(58 + lift - 6 * Math.max(0, Math.cos(2 * Math.PI * cycles)), 1, 4)),
        NO_BLUR,
      )?.contrast ?? 0;
    expect(contrast(3) / contrast(0)).toBeCloseTo(1, 1);
  });

  it('shows colours that turn, as heat leaves them beside a bead', () => {
    const tones = [lab(70, 0, 4), lab(58, 4, 24), lab(44, 14, -4), lab(46, -2, -18)];
    const folded = foldStripes(
      samplesOf((cycles) => tones[Math.floor(4 * placeOf(cycles))]),
      NO_BLUR,
    );
    expect(folded?.colourTurn).toBeGreaterThan(0.4);
  });

  it('is not told from a part of it', () => {
    const samples = samplesOf(() => lab(50, 0, 0));
    expect(foldStripes({ ...samples, cycles: samples.cycles.map((c) => c * 1e-4) }, NO_BLUR)).toBeNull();
  });

  it('is raised where the photo blurs it: a sine comes back to its depth', () => {
    // A Gaussian of 0.6 photo pixels leaves exp(-2 (pi s / p)^2) of a sine. Source: transfer function of a Gaussian.
    const [pitchMm, photoPixelMm] = [2, 0.3];
    const kept = Math.exp(-2 * ((Math.PI * 0.6 * photoPixelMm) / pitchMm) ** 2);
    const sine = (depth: number): StripeSamples =>
      samplesOf((cycles) => lab(60 + depth * Math.cos(2 * Math.PI * cycles), 0, 0));
    const blur = { pitchMm, photoPixelMm, stepMm: 0.001, strayCycles: 0 };
    const blurred = foldStripes(sine(4 * kept), blur)?.contrast ?? 0;
    const sharp = foldStripes(sine(4), NO_BLUR)?.contrast ?? 0;
    expect(blurred / sharp).toBeCloseTo(1, 2);
  });
});

describe('the likeness of periods', () => {
  const colours = { core: lab(40, 0, 0), ground: lab(60, 0, 0) };

  it('is whole where every period is the same', () => {
    const samples = samplesOf((cycles) => lab(50 + 5 * Math.cos(2 * Math.PI * cycles), 0, 0));
    expect(stripeLikeness(samples, colours)).toBeCloseTo(1, 6);
  });

  it('is about nothing where every period has a profile of its own', () => {
    const random = dice(21);
    const shifts = Array.from({ length: PERIODS }, () => random.next());
    const samples = samplesOf((cycles) =>
      lab(50 + 5 * Math.cos(2 * Math.PI * (cycles + shifts[Math.floor(cycles)])), 0, 0),
    );
    expect(Math.abs(stripeLikeness(samples, colours) ?? 1)).toBeLessThan(0.25);
  });

  it('is not known from one period', () => {
    const samples = samplesOf((cycles) => lab(50 + cycles, 0, 0));
    expect(stripeLikeness({ ...samples, count: 400 }, colours)).toBeNull();
  });
});
