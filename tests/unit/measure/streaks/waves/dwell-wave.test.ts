import { describe, expect, it } from 'vitest';
import { dwellWave } from '../../../../../server/measure/streaks/waves/dwell-wave.ts';
import type { StripeSamples } from '../../../../../server/measure/streaks/waves/stripe-samples.ts';

const PERIODS = 12;
const SAMPLES_PER_PERIOD = 400;

/** Samples evenly over whole periods, with lack of dwell by their place in cycles. */
function samplesOf(lackAt: (cycles: number) => number): StripeSamples {
  const count = SAMPLES_PER_PERIOD * PERIODS;
  const cycles = Float64Array.from({ length: count }, (_, i) => (i + 0.5) / SAMPLES_PER_PERIOD);
  const grey = new Float32Array(count).fill(50);
  return { count, cycles, L: grey, a: grey, b: grey, underDwell: Float32Array.from(cycles, lackAt) };
}

/** 1 over the first part of every period, 0 over the rest. */
const square =
  (duty: number, start = 0) =>
  (cycles: number): number =>
    cycles - start - Math.floor(cycles - start) < duty ? 1 : 0;

describe('how lack of dwell follows even stripes', () => {
  it('is not told where nobody told lack of dwell', () => {
    expect(dwellWave({ ...samplesOf(square(0.5)), underDwell: null })).toBeNull();
  });

  it('is not told of no samples', () => {
    expect(dwellWave({ ...samplesOf(square(0.5)), count: 0 })).toBeNull();
  });

  // First harmonic of a square wave between 0 and 1: (2 / pi) sin(pi d). Source: its Fourier series, textbook.
  it.each([0.1, 0.25, 0.5, 0.75])(
    'is the first harmonic of a square wave, for a share of %f of each period',
    (duty) => {
      const wave = dwellWave(samplesOf(square(duty)));
      expect(wave?.amplitude).toBeCloseTo((2 / Math.PI) * Math.sin(Math.PI * duty), 4);
      expect(wave?.mean).toBeCloseTo(duty, 6);
    },
  );

  it('is 2 / pi for half of each period, wherever in the period that lies', () => {
    for (const start of [0, 0.2, 0.375, 0.7]) {
      expect(dwellWave(samplesOf(square(0.5, start)))?.amplitude).toBeCloseTo(2 / Math.PI, 4);
    }
  });

  it('is the half of a share that rises and falls as a cosine from 0 to 1', () => {
    const wave = dwellWave(samplesOf((cycles) => 0.5 + 0.5 * Math.cos(2 * Math.PI * cycles)));
    expect(wave?.amplitude).toBeCloseTo(0.5, 6);
    expect(wave?.mean).toBeCloseTo(0.5, 6);
  });

  it('is halved where half as much is told', () => {
    const faint = dwellWave(samplesOf((cycles) => 0.5 * square(0.5)(cycles)));
    expect(faint?.amplitude).toBeCloseTo(1 / Math.PI, 4);
    expect(faint?.mean).toBeCloseTo(0.25, 6);
  });

  it('has a mean but no change where all places lack the same', () => {
    const wave = dwellWave(samplesOf(() => 0.3));
    expect(wave?.amplitude).toBeCloseTo(0, 6);
    expect(wave?.mean).toBeCloseTo(0.3, 6);
  });

  it.each([2, 3, 0.5])('does not change with the stripes where its own period is %f of theirs', (times) => {
    const wave = dwellWave(samplesOf((cycles) => 0.5 + 0.5 * Math.cos((2 * Math.PI * cycles) / times)));
    expect(wave?.amplitude).toBeCloseTo(0, 6);
    expect(wave?.mean).toBeCloseTo(0.5, 6);
  });

  // A square wave has odd harmonics only: of one at twice the pitch none is at the pitch.
  it('does not change with the stripes where every second of them is told', () => {
    const wave = dwellWave(samplesOf((cycles) => square(0.5)(cycles / 2)));
    expect(wave?.amplitude).toBeCloseTo(0, 4);
    expect(wave?.mean).toBeCloseTo(0.5, 6);
  });

  it('takes no note of room that holds no samples', () => {
    const samples = samplesOf(square(0.25));
    const count = 5 * SAMPLES_PER_PERIOD;
    const underDwell = samples.underDwell?.map((lack, i) => (i < count ? lack : 1)) ?? null;
    const wave = dwellWave({ ...samples, count, underDwell });
    expect(wave?.amplitude).toBeCloseTo((2 / Math.PI) * Math.sin(Math.PI / 4), 4);
    expect(wave?.mean).toBeCloseTo(0.25, 6);
  });
});
