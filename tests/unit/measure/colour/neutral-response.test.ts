import { describe, expect, it } from 'vitest';
import { fitNeutralResponse, undoTone } from '../../../../server/measure/colour/neutral-response.ts';
import type { GreySample } from '../../../../server/measure/colour/neutral-response.ts';

type Rgb = readonly [number, number, number];

/** Three copies of a ramp of eight greys, spread over the card. */
function greys(camera: (reflectance: number, at: readonly [number, number]) => Rgb): GreySample[] {
  return [0, 1, 2].flatMap((copy) =>
    [0.9, 0.8, 0.57, 0.38, 0.24, 0.14, 0.066, 0.025].map((reflectance, k): GreySample => {
      const centreMm = [20 + 18 * ((k + 3 * copy) % 8), 10 + 40 * copy] as const;
      return {
        centreMm,
        decoded: camera(reflectance, centreMm),
        reflectance: [reflectance, reflectance, reflectance],
        sigma: 0.012,
      };
    }),
  );
}
const grey = (value: number): Rgb => [value, value, value];

describe('the response of a photo to neutral reflectance', () => {
  it('is none for a photo that is right already', () => {
    const response = fitNeutralResponse(greys(grey));
    for (const h of response?.toneCorrection ?? [NaN]) expect(h).toBeCloseTo(0, 6);
    for (const gain of response?.logGain ?? [NaN]) expect(gain).toBeCloseTo(0, 6);
    expect(response?.outliers.size).toBe(0);
  });

  it('has the gains of the channels: white balance and exposure', () => {
    const response = fitNeutralResponse(greys((r) => [0.8 * r, 0.6 * r, 0.3 * r]));
    [0.8, 0.6, 0.3].forEach((gain, k) => {
      expect(Math.exp(response?.logGain[k] ?? NaN)).toBeCloseTo(gain, 3);
    });
  });

  it('has the slope of the light over the card', () => {
    const response = fitNeutralResponse(greys((r, [x, y]) => grey(0.7 * r * Math.exp(0.001 * x - 0.002 * y))));
    expect(response?.logLightPerMm[0]).toBeCloseTo(0.001, 4);
    expect(response?.logLightPerMm[1]).toBeCloseTo(-0.002, 4);
  });

  it('undoes a power curve: light is decoded to the power 1 / 1.15 up to a factor', () => {
    const response = fitNeutralResponse(greys((r) => grey(r ** 1.15)));
    if (response === null) throw new Error('expected a response');
    const lightOf = (decoded: number): number => Math.exp(undoTone(response.toneCorrection, Math.log(decoded)));
    const ratio = lightOf(0.6 ** 1.15) / lightOf(0.1 ** 1.15);
    expect(ratio / 6).toBeCloseTo(1, 1);
  });

  it('leaves out a shadowed grey and is not moved by it', () => {
    const samples = greys((r) => grey(0.7 * r));
    samples[3] = { ...samples[3], decoded: grey(0.1 * samples[3].decoded[0]) };
    const response = fitNeutralResponse(samples);
    expect([...(response?.outliers ?? [])]).toEqual([3]);
    expect(Math.exp(response?.logGain[1] ?? NaN)).toBeCloseTo(0.7, 3);
  });

  it('is not claimed for fewer than five greys', () => {
    expect(fitNeutralResponse(greys(grey).slice(0, 4))).toBeNull();
    expect(fitNeutralResponse([])).toBeNull();
  });

  it('stays monotone even under a curve that is not', () => {
    // Bright greys darker than middle ones: no camera does this, a covered card may seem to.
    const response = fitNeutralResponse(greys((r) => grey(r > 0.5 ? 0.2 : r)));
    if (response === null) throw new Error('expected a response');
    let last = -Infinity;
    for (let log = -7; log < 0.5; log += 0.05) {
      const light = undoTone(response.toneCorrection, log);
      expect(light).toBeGreaterThan(last);
      last = light;
    }
  });
});
