import { describe, expect, it } from 'vitest';
import { spectralPeaks, strongestNear } from '../../../../../server/measure/streaks/waves/spectral-peaks.ts';
import { stripeSpectrum } from '../../../../../server/measure/streaks/waves/stripe-spectrum.ts';
import { dice } from '../../../../support/lattice-noise.ts';
import { streakSignalOf } from '../../../../support/streak-signal-of.ts';

const wave =
  (pitchMm: number, degrees: number) =>
  (x: number, y: number): number => {
    const angle = (degrees * Math.PI) / 180;
    return Math.cos((2 * Math.PI * (x * Math.cos(angle) + y * Math.sin(angle))) / pitchMm);
  };

describe('peaks of the mean spectrum', () => {
  it.each([
    [2.3, 0],
    [3.7, 35],
    [6.1, 100],
    [9.4, 163],
  ])('give a pitch of %d mm across %d degrees within 1 per cent and 1 degree', (pitchMm, degrees) => {
    const random = dice(5);
    const stripes = wave(pitchMm, degrees);
    const spectrum = stripeSpectrum(streakSignalOf(240, 200, (x, y) => stripes(x, y) + 0.5 * random.normal()));
    const [peak] = spectralPeaks(spectrum, { shortestMm: 1.3, longestMm: 13, count: 1 });
    const turned = (Math.atan2(peak.wave.ky, peak.wave.kx) * 180) / Math.PI;
    expect(Math.abs(1 / Math.hypot(peak.wave.kx, peak.wave.ky) / pitchMm - 1)).toBeLessThan(0.01);
    expect(Math.abs(((turned - degrees + 270) % 180) - 90)).toBeLessThan(1);
    expect(peak.prominence).toBeGreaterThan(20);
  });

  // Source: [WELCH1967]: the mean of windowed spectra of white noise is its variance, when the window's energy is taken out.
  it('have the variance of white noise as their level', () => {
    const random = dice(6);
    const { power } = stripeSpectrum(streakSignalOf(300, 300, () => 2 * random.normal()));
    expect(power.reduce((sum, p) => sum + p, 0) / power.length).toBeCloseTo(4, 0);
  });

  it('are found near a wave that is looked for, and there alone', () => {
    const random = dice(7);
    const [first, second] = [wave(4, 20), wave(7, 110)];
    const spectrum = stripeSpectrum(
      streakSignalOf(200, 200, (x, y) => first(x, y) + second(x, y) + 0.3 * random.normal()),
    );
    const angle = (112 * Math.PI) / 180;
    const near = strongestNear(spectrum, { kx: Math.cos(angle) / 7.1, ky: Math.sin(angle) / 7.1 });
    expect(near === null ? 0 : 1 / Math.hypot(near.wave.kx, near.wave.ky)).toBeCloseTo(7, 1);
    expect(strongestNear(spectrum, { kx: 5, ky: 0 })).toBeNull();
  });

  it('do not stand out where there is noise alone', () => {
    const random = dice(8);
    const spectrum = stripeSpectrum(streakSignalOf(240, 240, () => random.normal()));
    const [peak] = spectralPeaks(spectrum, { shortestMm: 1.3, longestMm: 13, count: 1 });
    expect(peak.prominence).toBeLessThan(3);
  });
});
