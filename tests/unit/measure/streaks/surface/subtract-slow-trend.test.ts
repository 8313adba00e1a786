import { describe, expect, it } from 'vitest';
import { subtractSlowTrend } from '../../../../../server/measure/streaks/surface/subtract-slow-trend.ts';

const grid = { width: 80, height: 60, stepMm: 1, sigmaMm: 10 };
const at = (x: number, y: number): number => y * grid.width + x;

function signal(valueAt: (x: number, y: number) => number): Float32Array {
  const values = new Float32Array(grid.width * grid.height);
  for (let y = 0; y < grid.height; y++) for (let x = 0; x < grid.width; x++) values[at(x, y)] = valueAt(x, y);
  return values;
}
const everywhere = signal(() => 1);

describe('taking off slow change', () => {
  it('leaves nothing of an even signal', () => {
    const values = signal(() => 7);
    subtractSlowTrend(values, everywhere, grid);
    expect(Math.max(...values.map(Math.abs))).toBeLessThan(1e-4);
  });

  it('leaves nothing of a slope away from the rim', () => {
    const values = signal((x, y) => 0.3 * x - 0.2 * y);
    subtractSlowTrend(values, everywhere, grid);
    expect(Math.abs(values[at(40, 30)])).toBeLessThan(0.05);
  });

  // A Gaussian of deviation s passes exp(-2 (pi s f)^2) of a wave: with s = 10 mm and 8 mm to a period less than 1e-12.
  it('keeps a short wave', () => {
    const values = signal((x) => Math.sin((2 * Math.PI * x) / 8));
    subtractSlowTrend(values, everywhere, grid);
    expect(values[at(42, 30)]).toBeCloseTo(1, 1);
    expect(values[at(46, 30)]).toBeCloseTo(-1, 1);
  });

  it('takes no note of what has no weight', () => {
    const weight = signal((x) => (x < 40 ? 1 : 0));
    const values = signal((x) => (x < 40 ? 2 : 500));
    subtractSlowTrend(values, weight, grid);
    expect(Math.abs(values[at(38, 30)])).toBeLessThan(1e-4);
  });
});
