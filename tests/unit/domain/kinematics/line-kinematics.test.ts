import { describe, expect, it } from 'vitest';
import { minutesPerSquareMetreOf, squareMetresPerHour } from '../../../../server/domain/kinematics/area-rate.ts';
import { dwellTime } from '../../../../server/domain/kinematics/dwell-time.ts';
import { edgeGap, linePitch, widestLocalGap } from '../../../../server/domain/kinematics/line-pitch.ts';
import { strokeOverlap, strokesSeenByPoint, touchedShare } from '../../../../server/domain/kinematics/overlap.ts';
import { scanSpeed, sinusoidalScanSpeed } from '../../../../server/domain/kinematics/scan-speed.ts';
import { strokesPerSecond } from '../../../../server/domain/kinematics/strokes-per-second.ts';
import { LINE_MACHINE, settingsOf } from '../../../support/line-machine.ts';

// Expected numbers: arithmetic by hand on 1500 W, d 0.6 mm, W 100 mm, f 100 Hz (cycles), 10 mm/s, one pass.
const example = settingsOf({});
const strokeCounting = { ...LINE_MACHINE, strokesPerCycle: 1 as const };

describe('kinematics of a swept line', () => {
  it('counts two strokes a cycle, or one where the machine counts strokes', () => {
    expect(strokesPerSecond(example, LINE_MACHINE)).toBe(200);
    expect(strokesPerSecond(example, strokeCounting)).toBe(100);
  });

  it('sweeps at 2 W f, 20 m/s, and at half of it when hertz are strokes', () => {
    expect(scanSpeed(example, LINE_MACHINE)).toBe(20_000);
    expect(scanSpeed(example, strokeCounting)).toBe(10_000);
  });

  it('is pi/2 faster in the middle of a sinusoidal sweep, 31.4 m/s, and at rest at its ends', () => {
    expect(sinusoidalScanSpeed(example, LINE_MACHINE, 0)).toBeCloseTo(31_415.9, 1);
    expect(sinusoidalScanSpeed(example, LINE_MACHINE, 50)).toBe(0);
    expect(() => sinusoidalScanSpeed(example, LINE_MACHINE, 51)).toThrow(/within 50 mm/);
  });

  it('keeps the time of a sinusoidal stroke equal to that of the triangular one', () => {
    const steps = 20_000;
    let time = 0;
    for (let index = 0; index < steps; index++) {
      const angle = (Math.PI * (index + 0.5)) / steps - Math.PI / 2;
      const offset = 50 * Math.sin(angle);
      time += (50 * Math.cos(angle) * Math.PI) / steps / sinusoidalScanSpeed(example, LINE_MACHINE, offset);
    }
    expect(time).toBeCloseTo(100 / scanSpeed(example, LINE_MACHINE), 9);
  });

  it('spaces strokes 0.050 mm, or 0.100 mm when hertz are strokes', () => {
    expect(linePitch(example, LINE_MACHINE)).toBeCloseTo(0.05, 12);
    expect(linePitch(example, strokeCounting)).toBeCloseTo(0.1, 12);
  });

  it('opens the zig-zag to twice the pitch at the edges, 0.100 mm, and to the pitch in the middle', () => {
    expect(edgeGap(example, LINE_MACHINE)).toBeCloseTo(0.1, 12);
    expect(widestLocalGap(example, LINE_MACHINE, 50)).toBeCloseTo(edgeGap(example, LINE_MACHINE), 12);
    expect(widestLocalGap(example, LINE_MACHINE, -50)).toBeCloseTo(edgeGap(example, LINE_MACHINE), 12);
    expect(widestLocalGap(example, LINE_MACHINE, 0)).toBeCloseTo(0.05, 12);
  });

  it('overlaps strokes by 91.7 % so that a point sees 12 of them', () => {
    expect(strokeOverlap(example, LINE_MACHINE)).toBeCloseTo(0.917, 3);
    expect(strokesSeenByPoint(example, LINE_MACHINE)).toBeCloseTo(12, 9);
    expect(touchedShare(example, LINE_MACHINE)).toBe(1);
  });

  it('leaves metal untouched when the pitch is wider than the spot', () => {
    const rushed = settingsOf({ scanFrequencyHz: 10, travelSpeedMmPerS: 24 });
    expect(touchedShare(rushed, LINE_MACHINE)).toBeCloseTo(0.5, 12);
    expect(strokeOverlap(rushed, LINE_MACHINE)).toBeCloseTo(-1, 12);
  });

  it('dwells 30 us on a point', () => {
    expect(dwellTime(example, LINE_MACHINE) * 1e6).toBeCloseTo(30, 9);
  });

  it('cleans 3.6 m2/h in one pass, a third of it in three, in inverse minutes per square metre', () => {
    expect(squareMetresPerHour(example)).toBeCloseTo(3.6, 12);
    expect(squareMetresPerHour(settingsOf({ passes: 3 }))).toBeCloseTo(1.2, 12);
    expect(minutesPerSquareMetreOf(example)).toBeCloseTo(60 / 3.6, 9);
  });
});
