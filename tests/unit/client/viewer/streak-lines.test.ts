import { describe, expect, it } from 'vitest';
import { streakLines } from '../../../../client/viewer/streak-lines.ts';
import { measured } from '../../../../server/domain/measured.ts';
import type { Streaks } from '../../../../server/domain/streaks.ts';
import type { Point } from '../../../../client/viewer/plane-geometry.ts';

const ZONE: readonly Point[] = [
  [0, 0],
  [100, 0],
  [100, 50],
  [0, 50],
];
/** Two pixels for a millimetre. */
const DOUBLE = [2, 0, 0, 0, 2, 0, 0, 0, 1];
const streaks = {
  found: true,
  kind: 'line-pitch',
  pitchMm: measured(10, 9.9, 10.1),
  directionDegrees: 90,
} as unknown as Streaks;

describe('streakLines', () => {
  it('lie one pitch apart and run in the measured direction', () => {
    const lines = streakLines(streaks, ZONE, DOUBLE);
    expect(lines.length).toBe(11);
    const xs = lines.map(([[x]]) => x).sort((a, b) => a - b);
    expect(xs[1] - xs[0]).toBeCloseTo(20, 9);
    for (const [[x0], [x1]] of lines) expect(x1).toBeCloseTo(x0, 9);
  });

  it('are not drawn without streaks, without millimetres or too dense to be seen', () => {
    expect(streakLines({ ...streaks, found: false }, ZONE, DOUBLE)).toEqual([]);
    expect(streakLines(streaks, ZONE, null)).toEqual([]);
    expect(streakLines({ ...streaks, pitchMm: measured(0.1, 0.1, 0.1) }, ZONE, DOUBLE)).toEqual([]);
  });
});
