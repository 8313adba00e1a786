import { describe, expect, it } from 'vitest';
import { hertz, measured, millimetresPerSecond } from '../../../../server/domain/index.ts';
import { expectedPitchMm, travelSpeedFromPitch } from '../../../../server/measure/streaks/travel-speed.ts';

describe('the spacing of strokes and the travel speed', () => {
  // By hand: 60 mm/s over 10 cycles a second of two strokes each is 3 mm; strokes counted singly, 6 mm.
  it('is the way of the hand between two strokes', () => {
    const settings = { travelSpeedMmPerS: millimetresPerSecond(60), scanFrequencyHz: hertz(10) };
    expect(expectedPitchMm(settings, 2)).toBeCloseTo(3, 12);
    expect(expectedPitchMm(settings, 1)).toBeCloseTo(6, 12);
  });

  it('gives the speed back from the spacing, with the interval of the spacing', () => {
    const speed = travelSpeedFromPitch(measured(3, 2.9, 3.2), { scanFrequencyHz: hertz(10) }, 2);
    expect(speed.value).toBeCloseTo(60, 12);
    expect([speed.low, speed.high]).toEqual([58, 64]);
  });

  it('doubles with the frequency', () => {
    const pitch = measured(2.5, 2.4, 2.6);
    const slow = travelSpeedFromPitch(pitch, { scanFrequencyHz: hertz(40) }, 1);
    const fast = travelSpeedFromPitch(pitch, { scanFrequencyHz: hertz(80) }, 1);
    expect(fast.value).toBeCloseTo(2 * slow.value, 12);
  });
});
