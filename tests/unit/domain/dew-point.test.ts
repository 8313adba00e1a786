import { describe, expect, it } from 'vitest';
import { fraction } from '../../../server/domain/index.ts';
import { dewPointC } from '../../../server/domain/dew-point.ts';
import { dewPointMargin } from '../../../server/domain/dew-point-margin.ts';

describe('the dew point', () => {
  /** Derived from the WMO constants (17.62, 243.12 C) in the project's reference sheet, to the digits printed there. */
  it.each([
    [20, 0.5, 9.255],
    [25, 0.6, 16.693],
    [23, 0.85, 20.34],
    [10, 0.8, 6.706],
    [30, 0.75, 25.081],
  ])('of air at %d C and a relative humidity of %d is %d C', (air, humidity, expected) => {
    expect(Number(dewPointC(air, humidity).toFixed(3))).toBe(expected);
  });

  it.each([
    [20, 0.5],
    [10, 0.8],
    [30, 0.75],
  ])(
    'differs by 0.006 C at most from the constants of Alduchov and Eskridge (1996) at %d C and %d',
    (air, humidity) => {
      const [b, c] = [17.625, 243.04];
      const g = Math.log(humidity) + (b * air) / (c + air);
      expect(Math.abs(dewPointC(air, humidity) - (c * g) / (b - g))).toBeLessThanOrEqual(0.006);
    },
  );

  it('of saturated air is the temperature of the air', () => {
    for (const air of [-45, -5, 0, 12.5, 60]) expect(dewPointC(air, 1)).toBeCloseTo(air, 10);
  });

  it('gives back the humidity: the vapour pressure at the dew point is that of the air', () => {
    const pressure = (t: number): number => 6.112 * Math.exp((17.62 * t) / (243.12 + t));
    for (const [air, humidity] of [
      [5, 0.3],
      [18, 0.65],
      [40, 0.9],
    ]) {
      expect(pressure(dewPointC(air, humidity)) / pressure(air)).toBeCloseTo(humidity, 12);
    }
  });

  it('rises with the temperature and with the humidity', () => {
    expect(dewPointC(21, 0.5)).toBeGreaterThan(dewPointC(20, 0.5));
    expect(dewPointC(20, 0.51)).toBeGreaterThan(dewPointC(20, 0.5));
  });

  it.each([
    [-46, 0.5],
    [61, 0.5],
    [20, 0],
    [20, 1.01],
    [Number.NaN, 0.5],
  ])('is refused for %d C and %d', (air, humidity) => {
    expect(() => dewPointC(air, humidity)).toThrow(RangeError);
  });
});

describe('the 3 degree rule', () => {
  const climate = {
    airTemperatureC: 20,
    relativeHumidity: fraction(0.5),
    surfaceTemperatureC: 12.255,
    uncertainty: null,
  };

  it('is met from 3 C above the dew point of 9.255 C on', () => {
    expect(dewPointMargin({ ...climate, surfaceTemperatureC: 12.26 }).decision).toBe('meets');
    expect(dewPointMargin({ ...climate, surfaceTemperatureC: 12.25 }).decision).toBe('does not meet');
  });

  it('cannot be told within the stated uncertainty of the instruments', () => {
    const uncertainty = { airTemperatureC: 0.5, surfaceTemperatureC: 0.5, relativeHumidity: 0.03 };
    const margin = dewPointMargin({ ...climate, uncertainty });
    expect(margin.decision).toBe('cannot tell');
    // By hand: g = 0.64617, dT/dg = c b / (b - g)^2 = 14.869 C; by air 14.869 x 0.06188 = 0.9200, by humidity 14.869 / 0.5.
    expect(margin.marginUncertaintyC).toBeCloseTo(Math.hypot(0.5, 0.92 * 0.5, 29.737 * 0.03), 3);
    expect(dewPointMargin({ ...climate, surfaceTemperatureC: 15, uncertainty }).decision).toBe('meets');
    expect(dewPointMargin({ ...climate, surfaceTemperatureC: 10, uncertainty }).decision).toBe('does not meet');
  });

  it('holds at the ends of the range', () => {
    const uncertainty = { airTemperatureC: 1, surfaceTemperatureC: 1, relativeHumidity: 0.02 };
    expect(
      dewPointMargin({ airTemperatureC: 60, relativeHumidity: fraction(1), surfaceTemperatureC: 60, uncertainty })
        .marginC,
    ).toBeCloseTo(0, 9);
  });
});
