import { describe, expect, it } from 'vitest';
import { gridTurnRadians } from '../../../../client/viewer/grid-turn.ts';
import { enclosingRectangle } from '../../../../server/measure/geometry/surface-grid.ts';
import type { Point } from '../../../../client/viewer/plane-geometry.ts';

const turned = (radians: number): Point[] =>
  [
    [0, 0],
    [200, 0],
    [200, 140],
    [0, 140],
  ].map(([x, y]): Point => [
    Math.cos(radians) * x - Math.sin(radians) * y,
    Math.sin(radians) * x + Math.cos(radians) * y,
  ]);

describe('gridTurnRadians', () => {
  it('is the turn of the measuring grid for zones at any angle', () => {
    for (const radians of [0, 0.01, 0.03, -0.2, 0.5, 0.8, 1.4]) {
      const zone = turned(radians);
      const angle = enclosingRectangle(zone.map(([x, y]): [number, number] => [x, y])).angle;
      expect(gridTurnRadians(zone)).toBeCloseTo(angle, 9);
    }
  });

  it('stays upright without a zone', () => {
    expect(gridTurnRadians(null)).toBe(0);
  });
});
