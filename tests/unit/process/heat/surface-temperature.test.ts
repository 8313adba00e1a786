import { describe, expect, it } from 'vitest';
import { joulesPerSquareCentimetre, millimetresPerSecond, seconds, watts } from '../../../../server/domain/index.ts';
import { bulkTemperatureRise } from '../../../../server/process/heat/bulk-warming.ts';
import {
  halfSpaceTemperatureRise,
  heatDiffusionLengthMm,
} from '../../../../server/process/heat/half-space-temperature.ts';
import {
  hottestPoint,
  movingGaussianTemperatureRise,
  pecletNumber,
} from '../../../../server/process/heat/moving-gaussian-temperature.ts';
import { MILD_STEEL, specificHeatJPerKgK } from '../../../../server/process/heat/steel-properties.ts';

const beamAt = (metresPerSecond: number) => ({
  powerW: watts(1500),
  radiusMm: 0.3,
  speedMmPerS: millimetresPerSecond(metresPerSecond * 1000),
  absorptivity: 0.35,
});

describe('surface temperature of a half space, Carslaw and Jaeger section 2.9', () => {
  // Carslaw & Jaeger: 2 A I sqrt(alpha t / pi) / k, A 0.35, k 53, alpha 13.9 mm2/s, 530.5 kW/cm2, 30 us: 807 K.
  it('rises 807 K in 30 us under 530 kW/cm2', () => {
    expect(halfSpaceTemperatureRise(530.516, seconds(30e-6), 0.35, MILD_STEEL)).toBeCloseTo(807, 0);
  });

  it('does not rise without time or without light, and doubles in four times the time', () => {
    const rise = (time: number) => halfSpaceTemperatureRise(100, seconds(time), 0.35, MILD_STEEL);
    expect(rise(0)).toBe(0);
    expect(halfSpaceTemperatureRise(0, seconds(1), 0.35, MILD_STEEL)).toBe(0);
    expect(rise(4e-5) / rise(1e-5)).toBeCloseTo(2, 12);
  });

  it('reaches 41 um deep in 30 us and 0.53 mm between strokes 5 ms apart', () => {
    expect(heatDiffusionLengthMm(seconds(30e-6), MILD_STEEL) * 1000).toBeCloseTo(41, 0);
    expect(heatDiffusionLengthMm(seconds(5e-3), MILD_STEEL)).toBeCloseTo(0.53, 2);
  });
});

describe('surface temperature under a moving Gaussian spot, Cline and Anthony 1977', () => {
  // Numeric integral of the published formula: w 0.3 mm, 1500 W, A 0.35, k 53, alpha 13.9 mm2/s; whole kelvins, cut off.
  it.each([
    [1, 4332],
    [5, 2037],
    [10, 1450],
    [20, 1029],
    [40, 729],
  ])('peaks at %i m/s with a rise of %i K', (metresPerSecond, kelvin) => {
    expect(Math.floor(hottestPoint(beamAt(metresPerSecond), MILD_STEEL).rise)).toBe(kelvin);
  });

  it('is hottest 0.38 radii behind the centre when it is fast', () => {
    expect(hottestPoint(beamAt(20), MILD_STEEL).alongMm / 0.3).toBeCloseTo(-0.38, 2);
  });

  it('tends to the closed form of the resting spot, A P / (k w sqrt(2 pi)) = 13 173 K (Lax 1977)', () => {
    expect(movingGaussianTemperatureRise(beamAt(0), MILD_STEEL)).toBeCloseTo(13_172.6, 1);
    expect(movingGaussianTemperatureRise(beamAt(1e-7), MILD_STEEL)).toBeCloseTo(13_172.6, -2);
  });

  it('falls as the inverse square root of speed at high Peclet number', () => {
    expect(pecletNumber(beamAt(20), MILD_STEEL)).toBeCloseTo(216, 0);
    const ratio = hottestPoint(beamAt(40), MILD_STEEL).rise / hottestPoint(beamAt(160), MILD_STEEL).rise;
    expect(ratio).toBeCloseTo(2, 1);
  });

  it('is 1.27 to 1.28 times the half-space rise over one dwell once fast', () => {
    for (const speed of [10, 20, 40]) {
      const dwell = seconds(0.6e-3 / speed);
      const half = halfSpaceTemperatureRise(530.516, dwell, 0.35, MILD_STEEL);
      expect(hottestPoint(beamAt(speed), MILD_STEEL).rise / half).toBeGreaterThan(1.265);
      expect(hottestPoint(beamAt(speed), MILD_STEEL).rise / half).toBeLessThan(1.285);
    }
  });

  it('is proportional to power and symmetric across the path', () => {
    const rise = (powerW: number, across: number) =>
      movingGaussianTemperatureRise({ ...beamAt(10), powerW: watts(powerW) }, MILD_STEEL, -0.1, across);
    expect(rise(3000, 0.2)).toBeCloseTo(2 * rise(1500, 0.2), 9);
    expect(rise(1500, 0.2)).toBe(rise(1500, -0.2));
    expect(rise(1500, 0.2)).toBeLessThan(rise(1500, 0));
  });
});

describe('warming of the whole plate', () => {
  // Heat balance by hand: 0.5 x 150 J/cm2 over k / alpha = 3.813 MJ/(m3 K): 197, 33 and 20 K.
  it.each([
    [1, 197],
    [6, 33],
    [10, 20],
  ])('takes a %i mm plate up by %i K at 150 J/cm2', (thicknessMm, kelvin) => {
    const rise = bulkTemperatureRise(joulesPerSquareCentimetre(150), thicknessMm, 0.5, MILD_STEEL);
    expect(Math.round(rise)).toBe(kelvin);
  });
});

describe('specific heat of carbon steel, EN 1993-1-2', () => {
  it.each([
    [20, 439.8],
    [200, 529.8],
    [400, 605.9],
    [600, 759.9],
  ])('at %i C is %f J/(kg K)', (celsius, heat) => {
    expect(specificHeatJPerKgK(celsius)).toBeCloseTo(heat, 1);
  });

  it('is refused outside its range', () => {
    expect(() => specificHeatJPerKgK(601)).toThrow(/20..600/);
  });
});
