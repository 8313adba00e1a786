import { describe, expect, it } from 'vitest';
import { lineOnSteel } from '../../../../client/screens/teach/line-on-steel.ts';
import { USUAL_MACHINE } from '../../../../client/screens/machines/usual-machine.ts';
import { settingsSchema } from '../../../../server/domain/settings.ts';
import { minutesPerSquareMetreOf } from '../../../../server/process/kinematics/area-rate.ts';
import { edgeGap, linePitch } from '../../../../server/process/kinematics/line-pitch.ts';
import { strokeOverlap } from '../../../../server/process/kinematics/overlap.ts';

const { machine } = USUAL_MACHINE;
const settings = (travelSpeedMmPerS: number, scanFrequencyHz: number, passes = 1) =>
  settingsSchema.parse({ powerW: 1000, scanWidthMm: 100, scanFrequencyHz, travelSpeedMmPerS, passes });

describe('the line on the steel', () => {
  it('leaves 0.5 mm bare at 50 mm/s and 10 Hz with a 2 mm spot, worked out by hand', () => {
    // 10 Hz to and fro are 20 strokes a second; 50 / 20 = 2.5 mm; 2.5 - 2 = 0.5 mm.
    const line = lineOnSteel(settings(50, 10), machine);
    expect(line).toMatchObject({ strokesPerSecond: 20, pitchMm: 2.5, gapMm: 0.5, overlap: 0, widestPitchMm: 5 });
    // 100 mm x 50 mm/s = 0.3 m2 a minute.
    expect(line.minutesPerSquareMetre).toBeCloseTo(1 / 0.3, 9);
  });

  it('agrees with the server’s own kinematics wherever strokes overlap', () => {
    for (const [speed, frequency, passes] of [
      [15, 50, 1],
      [40, 30, 2],
      [99, 120, 3],
    ]) {
      const set = settings(speed, frequency, passes);
      const line = lineOnSteel(set, machine);
      expect(line.pitchMm).toBeCloseTo(linePitch(set, machine), 12);
      expect(line.overlap).toBeCloseTo(strokeOverlap(set, machine), 12);
      expect(line.widestPitchMm).toBeCloseTo(edgeGap(set, machine), 12);
      expect(line.minutesPerSquareMetre).toBeCloseTo(minutesPerSquareMetreOf(set), 12);
    }
  });

  it('halves its pitch where a hertz counts both strokes', () => {
    const single = lineOnSteel(settings(30, 20), { ...machine, strokesPerCycle: 1 });
    expect(single.pitchMm / lineOnSteel(settings(30, 20), machine).pitchMm).toBeCloseTo(2, 12);
  });
});
