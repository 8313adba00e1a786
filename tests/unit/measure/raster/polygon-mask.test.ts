import { describe, expect, it } from 'vitest';
import { byteMask } from '../../../../server/measure/raster/plane.ts';
import { fillPolygon } from '../../../../server/measure/raster/polygon-mask.ts';

type Vertex = readonly [number, number];

function filled(polygon: readonly Vertex[], width = 40, height = 30): Uint8Array {
  const mask = byteMask(width, height);
  fillPolygon(mask, polygon, 1);
  return mask.values;
}
const count = (values: Uint8Array): number => values.reduce((sum, v) => sum + v, 0);
const box = (x0: number, y0: number, x1: number, y1: number): Vertex[] => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];

describe('filling a polygon', () => {
  it('covers whole pixels exactly', () => {
    const values = filled(box(3, 4, 13, 9));
    expect(count(values)).toBe(50);
    expect([values[4 * 40 + 3], values[8 * 40 + 12], values[4 * 40 + 2], values[9 * 40 + 3]]).toEqual([1, 1, 0, 0]);
  });

  it('counts a pixel by its centre', () => {
    expect(count(filled(box(3.4, 4.4, 12.6, 8.6)))).toBe(50);
    expect(count(filled(box(3.6, 4.6, 12.4, 8.4)))).toBe(8 * 3);
  });

  it('shares a border between neighbours: no pixel twice, none left out', () => {
    const whole = filled(box(2, 2, 30, 20));
    const left = filled([
      [2, 2],
      [17.3, 2],
      [11.8, 20],
      [2, 20],
    ]);
    const right = filled([
      [17.3, 2],
      [30, 2],
      [30, 20],
      [11.8, 20],
    ]);
    whole.forEach((value, i) => {
      expect(left[i] + right[i]).toBe(value);
    });
  });

  it('leaves a hole where an outline lies inside another by the even-odd rule', () => {
    const ring: Vertex[] = [...box(2, 2, 20, 20), [2, 2], ...box(8, 8, 14, 14), [8, 8]];
    expect(count(filled(ring))).toBe(18 * 18 - 6 * 6);
  });

  it('is cut off at the rim of the mask, and empty beyond it', () => {
    expect(count(filled(box(-50, -50, 90, 90)))).toBe(1200);
    expect(count(filled(box(50, 0, 90, 30)))).toBe(0);
    expect(count(filled([]))).toBe(0);
  });

  it('comes near the area of a circle', () => {
    const circle = Array.from({ length: 120 }, (_, k): Vertex => {
      const angle = (2 * Math.PI * k) / 120;
      return [20 + 13 * Math.cos(angle), 15 + 13 * Math.sin(angle)];
    });
    expect(count(filled(circle)) / (Math.PI * 169)).toBeCloseTo(1, 1);
  });
});
