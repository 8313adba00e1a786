import { describe, expect, it } from 'vitest';
import { realRuns } from '../../../../../server/measure/streaks/bands/band-runs.ts';
import { toldBands } from '../../../../../server/measure/streaks/bands/told-bands.ts';
import { widthOf } from '../../../../../server/measure/streaks/bands/profile-levels.ts';
import type { ReducedSurface } from '../../../../../server/measure/streaks/surface/reduce-surface.ts';

const STEP_MM = 0.6;
const [WIDTH, HEIGHT] = [200, 150];
const DEGREE = Math.PI / 180;

/** A zone of 120 x 90 mm with lack of dwell told as a function of the place, mm from the corner; NaN is not usable. */
function surfaceTold(told: (x: number, y: number) => number): ReducedSurface {
  const places = Float32Array.from({ length: WIDTH * HEIGHT }, (_, i) =>
    told(((i % WIDTH) + 0.5) * STEP_MM, (Math.floor(i / WIDTH) + 0.5) * STEP_MM),
  );
  const flat = new Float32Array(WIDTH * HEIGHT);
  return {
    width: WIDTH,
    height: HEIGHT,
    stepMm: STEP_MM,
    weight: places.map((p) => (Number.isNaN(p) ? 0 : 1)),
    L: flat,
    a: flat,
    b: flat,
    residue: null,
    underDwell: places.map((p) => (Number.isNaN(p) ? 0 : p)),
  };
}

/** A line through a point, mm; 0.9 within its width, 0.02 beside. */
const lineAt =
  (x0: number, y0: number, degrees: number, widthMm: number) =>
  (x: number, y: number): number => {
    const across = (y - y0) * Math.cos(degrees * DEGREE) - (x - x0) * Math.sin(degrees * DEGREE);
    return Math.abs(across) < widthMm / 2 ? 0.9 : 0.02;
  };
const degreesOf = (angle: number): number => (angle / DEGREE + 360) % 180;

describe('bands in the told lack of dwell', () => {
  it.each([17, 64, 128, 171])('run as a line of %d degrees does', (degrees) => {
    const told = toldBands(surfaceTold(lineAt(60, 45, degrees, 8)));
    expect(Math.abs(degreesOf(told?.direction.frame.angle ?? NaN) - degrees)).toBeLessThan(1);
    expect(told?.levels.explained).toBeGreaterThan(0.8);
    const runs = told === null ? [] : realRuns(told);
    expect(runs).toHaveLength(1);
    expect(Math.abs(widthOf(runs[0]) - 8)).toBeLessThan(1);
  });

  it('show where a seam only cuts a corner', () => {
    const told = toldBands(surfaceTold(lineAt(105, 75, 125, 9)));
    expect(Math.abs(degreesOf(told?.direction.frame.angle ?? NaN) - 125)).toBeLessThan(2);
    expect(told?.levels.explained).toBeGreaterThan(0.8);
    const area = told?.toldMm2 ?? 0;
    expect(area).toBeGreaterThan(200);
    expect(area).toBeLessThan(600);
  });

  it('show at the rim of the zone, where there is ground on one side alone', () => {
    const told = toldBands(surfaceTold((x, y) => (Number.isFinite(x) && y < 20 ? 0.85 : 0.01)));
    expect(degreesOf((told?.direction.frame.angle ?? NaN) + 0.05)).toBeLessThan(6);
    expect(told?.levels.runs.map(({ isCut }) => isCut)).toEqual([true]);
    expect(told?.levels.explained).toBeGreaterThan(0.9);
  });

  it('explain little of patches that lie about', () => {
    const centres = [
      [15, 20],
      [50, 70],
      [75, 15],
      [100, 60],
      [30, 50],
      [110, 20],
    ];
    const told = toldBands(
      surfaceTold((x, y) => (centres.some(([u, v]) => Math.hypot(x - u, y - v) < 8) ? 0.9 : 0.02)),
    );
    expect(told?.levels.explained ?? 0).toBeLessThan(0.6);
  });

  it('are none where too little is told, nothing is sure, or nobody told', () => {
    expect(toldBands(surfaceTold(() => 0.005))).toBeNull();
    expect(toldBands(surfaceTold((x, y) => 0.4 * lineAt(60, 45, 30, 8)(x, y)))).toBeNull();
    expect(toldBands({ ...surfaceTold(() => 0.5), underDwell: null })).toBeNull();
  });

  it('leave out what cannot be seen', () => {
    const line = lineAt(60, 45, 64, 8);
    const told = toldBands(surfaceTold((x, y) => (Math.hypot(x - 90, y - 20) < 14 ? NaN : line(x, y))));
    expect(Math.abs(degreesOf(told?.direction.frame.angle ?? NaN) - 64)).toBeLessThan(1);
  });
});
