import { describe, expect, it } from 'vitest';
import type { Appearance } from '../../../../server/domain/index.ts';
import { byteMask } from '../../../../server/measure/raster/plane.ts';
import { measureAppearance } from '../../../../server/measure/residue/measure-appearance.ts';
import { NO_NOISE } from '../../../../server/measure/residue/card-noise.ts';
import type { AppearanceInput } from '../../../../server/measure/residue/measure-appearance.ts';
import type { LabAt } from '../../../support/plain-view.ts';
import { labOf } from '../../../support/plain-view.ts';
import { seededNormal, seededRandom } from '../../../support/seeded-random.ts';

const SIDE = 300;

function appearanceOf(at: LabAt, options: Partial<AppearanceInput> = {}): Appearance {
  const codes = byteMask(SIDE, SIDE);
  codes.values.fill(1);
  const zone = byteMask(SIDE, SIDE);
  zone.values.fill(1);
  return measureAppearance({
    lab: labOf(SIDE, SIDE, at),
    codes,
    zone,
    stepMm: 0.25,
    lightnessSigma: 1,
    noiseAt: () => NO_NOISE,
    ...options,
  });
}
/**
 * Part of the variance of noise from pixel to pixel that lies in the band of 0.5 to 5 mm on a raster of 0.25 mm: the
 * autocorrelation of the band's filter at no shift, three Gaussians of 0.53, 3.77 and 5.3 px: 0.558 - 2 x 0.0112 + 0.0059.
 */
const IN_BAND = 0.541;
const grain = (sigma: number, seed = 1): LabAt => {
  const random = seededRandom(seed);
  return () => [50 + sigma * seededNormal(random), 0, 0];
};

describe('the look of the bare part', () => {
  it('has the mean lightness, give or take 1.96 standard deviations of the colour correction', () => {
    const { lightness } = appearanceOf((column) => [column < 150 ? 60 : 64, 0, 2], { lightnessSigma: 1.5 });
    expect(lightness?.value).toBeCloseTo(62, 6);
    expect(lightness?.low).toBeCloseTo(62 - 1.96 * 1.5, 2);
    expect(lightness?.high).toBeCloseTo(62 + 1.96 * 1.5, 2);
  });

  it('is of the bare pixels alone', () => {
    const codes = byteMask(SIDE, SIDE);
    for (let i = 0; i < codes.values.length; i++) codes.values[i] = i % SIDE < 200 ? 1 : 3;
    const { lightness } = appearanceOf((column) => (column < 200 ? [60, 0, 2] : [30, 20, 20]), { codes });
    expect(lightness?.value).toBeCloseTo(60, 6);
  });

  it('takes the photo’s own noise out of the texture as squares', () => {
    // Texture of 1.2 and noise of 0.9 show as 1.5 together.
    const { textureContrast } = appearanceOf(grain(1.5), { noiseAt: () => ({ square: IN_BAND * 0.9 ** 2, sigma: 0 }) });
    expect(textureContrast?.value).toBeCloseTo(1.2 * Math.sqrt(IN_BAND), 1);
    expect(textureContrast?.low).toBeLessThan(textureContrast?.value ?? NaN);
    expect(textureContrast?.high).toBeGreaterThan(textureContrast?.value ?? NaN);
  });

  it('asks for the noise at the lightness of the bare part', () => {
    let asked = NaN;
    appearanceOf(() => [57, 0, 0], {
      noiseAt: (lightness) => {
        asked = lightness;
        return NO_NOISE;
      },
    });
    expect(asked).toBeCloseTo(57, 4);
  });

  it('ends at no texture, not below it, where noise explains it all', () => {
    const { textureContrast } = appearanceOf(grain(0.8), { noiseAt: () => ({ square: 4, sigma: 0.4 }) });
    expect(textureContrast).toMatchObject({ value: 0, low: 0 });
    expect(textureContrast?.high).toBeGreaterThan(0.8);
  });

  it('holds the truth in its interval for surfaces that are alike all over', () => {
    const { textureContrast } = appearanceOf(grain(1.5, 9));
    expect(textureContrast?.low).toBeLessThan(1.5 * Math.sqrt(IN_BAND));
    expect(textureContrast?.high).toBeGreaterThan(1.5 * Math.sqrt(IN_BAND));
  });

  it('widens its interval when parts differ', () => {
    const even = appearanceOf(grain(1.5)).textureContrast;
    const random = seededRandom(3);
    const uneven = appearanceOf((column) => [
      50 + (column < 150 ? 0.6 : 2.04) * seededNormal(random),
      0,
      0,
    ]).textureContrast;
    expect((uneven?.high ?? NaN) - (uneven?.low ?? NaN)).toBeGreaterThan(
      3 * ((even?.high ?? NaN) - (even?.low ?? NaN)),
    );
  });

  it('widens its interval with what is not known of the noise', () => {
    const sure = appearanceOf(grain(1.5), { noiseAt: () => ({ square: 0.4, sigma: 0 }) }).textureContrast;
    const unsure = appearanceOf(grain(1.5), { noiseAt: () => ({ square: 0.4, sigma: 0.2 }) }).textureContrast;
    expect(unsure?.value).toBe(sure?.value);
    expect(unsure?.high).toBeGreaterThan(sure?.high ?? NaN);
    expect(unsure?.low).toBeLessThan(sure?.low ?? NaN);
  });

  it('has no texture in millimetres without a scale, and none of both where nothing is bare', () => {
    expect(appearanceOf(grain(1), { stepMm: null }).textureContrast).toBeNull();
    expect(appearanceOf(grain(1), { stepMm: null }).lightness).not.toBeNull();
    const codes = byteMask(SIDE, SIDE);
    codes.values.fill(3);
    codes.values.fill(1, 0, 390);
    expect(appearanceOf(grain(1), { codes })).toEqual({ lightness: null, textureContrast: null, heatTintFraction: 0 });
  });
});
