import { describe, expect, it } from 'vitest';
import type { PhotoPoint, SurfacePoint } from '../../../../server/domain/index.ts';
import { surfacePoint } from '../../../../server/domain/index.ts';
import { homography, project } from '../../../../server/measure/geometry/homography.ts';
import {
  enclosingRectangle,
  gridToIdeal,
  gridToPlane,
  layGrid,
  planeToGrid,
} from '../../../../server/measure/geometry/surface-grid.ts';
import type { SurfaceGrid } from '../../../../server/measure/geometry/surface-grid.ts';

const grid: SurfaceGrid = { unit: 'mm', width: 300, height: 200, step: 0.4, origin: [20, -15], angle: 0.3 };

/** A 60 x 20 rectangle at (10, 5), turned by `angle`. */
function turnedRectangle(angle: number): [number, number][] {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const corners: [number, number][] = [
    [0, 0],
    [60, 0],
    [60, 20],
    [0, 20],
  ];
  return corners.map(([x, y]) => [10 + c * x - s * y, 5 + s * x + c * y]);
}

describe('grid coordinates', () => {
  it('start at the origin and step along the turned axes', () => {
    expect(gridToPlane(grid, 0, 0)).toEqual([20, -15]);
    const [x, y] = gridToPlane(grid, 10, 0);
    expect(x).toBeCloseTo(20 + 4 * Math.cos(0.3), 12);
    expect(y).toBeCloseTo(-15 + 4 * Math.sin(0.3), 12);
  });

  it('are undone by the way back', () => {
    for (const [column, row] of [
      [0, 0],
      [299.5, 0.5],
      [-4, 210],
    ] as const) {
      const [c, r] = planeToGrid(grid, ...gridToPlane(grid, column, row));
      expect(c).toBeCloseTo(column, 9);
      expect(r).toBeCloseTo(row, 9);
    }
  });

  it('reach the photo by one map as by two', () => {
    const toIdeal = homography<SurfacePoint, PhotoPoint>([6, 0.4, 310, -0.3, 5.9, 240, 0.0004, 0.0007, 1]);
    const direct = project(gridToIdeal(grid, toIdeal), surfacePoint(120.5, 33.5));
    const [x, y] = gridToPlane(grid, 120.5, 33.5);
    const byPlane = project(toIdeal, surfacePoint(x, y));
    expect(direct[0]).toBeCloseTo(byPlane[0], 9);
    expect(direct[1]).toBeCloseTo(byPlane[1], 9);
  });
});

describe('the rectangle round a zone', () => {
  it('is the zone itself when that is a rectangle, however it is turned', () => {
    for (const angle of [0, 0.2, -0.6, 1.2]) {
      const found = enclosingRectangle(turnedRectangle(angle));
      const sides = [...found.size].sort((a, b) => a - b);
      expect(sides[0]).toBeCloseTo(20, 9);
      expect(sides[1]).toBeCloseTo(60, 9);
      expect(Math.abs(found.angle)).toBeLessThanOrEqual(Math.PI / 4 + 1e-9);
    }
  });

  it('stays upright when turning gains next to nothing', () => {
    expect(enclosingRectangle(turnedRectangle(0.004)).angle).toBe(0);
  });
});

describe('laying a grid', () => {
  it('takes the finest step while the pixels suffice', () => {
    const laid = layGrid(turnedRectangle(0), 'mm', 0.25, 1_000_000);
    expect(laid).toEqual({ unit: 'mm', width: 240, height: 80, step: 0.25, origin: [10, 5], angle: 0 });
  });

  it('grows the step until the pixels suffice', () => {
    const laid = layGrid(turnedRectangle(0), 'mm', 0.25, 1200);
    expect(laid.step).toBeCloseTo(1, 12);
    expect([laid.width, laid.height]).toEqual([60, 20]);
  });

  it('covers every corner of the zone', () => {
    const polygon = turnedRectangle(-0.6);
    const laid = layGrid(polygon, 'mm', 0.3, 1_000_000);
    for (const [x, y] of polygon) {
      const [column, row] = planeToGrid(laid, x, y);
      expect(column).toBeGreaterThanOrEqual(-1e-6);
      expect(row).toBeGreaterThanOrEqual(-1e-6);
      expect(column).toBeLessThanOrEqual(laid.width + 1e-5);
      expect(row).toBeLessThanOrEqual(laid.height + 1e-5);
    }
  });

  it('needs a zone with an area', () => {
    const line: [number, number][] = [
      [0, 0],
      [5, 5],
      [9, 9],
    ];
    expect(() => layGrid(line, 'mm', 0.25, 1000)).toThrow(RangeError);
  });
});
