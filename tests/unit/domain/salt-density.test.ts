import { describe, expect, it } from 'vitest';
import { meanReading } from '../../../server/evidence/readings/mean-reading.ts';
import { saltDensityMgPerM2 } from '../../../server/domain/salt-density.ts';

describe('the density of soluble salts', () => {
  /** ISO 8502-9, from memory: with 15 ml and a patch of 1250 mm2 it is 6 times the rise of the conductivity in uS/cm. */
  it('is 6 mg/m2 for each uS/cm with the usual patch, and 1.2 with 3 ml', () => {
    const usual = { conductivityRiseUsPerCm: 1, waterVolumeMl: 15, patchAreaMm2: 1250 };
    expect(saltDensityMgPerM2(usual)).toBeCloseTo(6, 10);
    expect(saltDensityMgPerM2({ ...usual, waterVolumeMl: 3 })).toBeCloseTo(1.2, 10);
  });

  it('grows with rise and volume, falls with area, and is 0 without a rise', () => {
    const salts = { conductivityRiseUsPerCm: 4, waterVolumeMl: 10, patchAreaMm2: 1000 };
    const density = saltDensityMgPerM2(salts);
    expect(saltDensityMgPerM2({ ...salts, conductivityRiseUsPerCm: 8 })).toBeCloseTo(2 * density, 10);
    expect(saltDensityMgPerM2({ ...salts, patchAreaMm2: 2000 })).toBeCloseTo(density / 2, 10);
    expect(saltDensityMgPerM2({ ...salts, conductivityRiseUsPerCm: 0 })).toBe(0);
  });
});

describe('the mean of readings', () => {
  /** By hand: 38, 41, 36, 44, 40 have mean 39.8 and squares 3.24 + 1.44 + 14.44 + 17.64 + 0.04 = 36.8. */
  it('comes with the sample standard deviation and the extremes', () => {
    const found = meanReading([38, 41, 36, 44, 40]);
    expect(found).toMatchObject({ least: 36, most: 44, count: 5 });
    expect(found.mean).toBeCloseTo(39.8, 12);
    expect(found.standardDeviation).toBeCloseTo(Math.sqrt(36.8 / 4), 12);
  });

  it('of one reading has no standard deviation, and none has no mean', () => {
    expect(meanReading([50])).toEqual({ mean: 50, standardDeviation: null, least: 50, most: 50, count: 1 });
    expect(() => meanReading([])).toThrow(RangeError);
  });
});
