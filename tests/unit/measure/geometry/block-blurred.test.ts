import { describe, expect, it } from 'vitest';
import { surfacePoint } from '../../../../server/domain/index.ts';
import { blockBlurred, blurWidthMm } from '../../../../server/measure/geometry/block-blurred.ts';
import { homography } from '../../../../server/measure/geometry/homography.ts';
import { photoMap, pixelsPerUnit, straightLens } from '../../../../server/measure/geometry/photo-map.ts';
import { BLOCKED } from '../../../../server/measure/geometry/rectify-photo.ts';
import { gridToPlane } from '../../../../server/measure/geometry/surface-grid.ts';
import type { SurfaceGrid } from '../../../../server/measure/geometry/surface-grid.ts';
import { byteMask } from '../../../../server/measure/raster/plane.ts';

const grid: SurfaceGrid = { unit: 'mm', width: 100, height: 70, step: 1, origin: [0, 0], angle: 0 };
const lens = straightLens({ width: 800, height: 600 });
const faceOn = photoMap(homography([2, 0, 0, 0, 2, 0, 0, 0, 1]), lens);

describe('what is blurred too far', () => {
  it('is told in the width over which a sharp edge is smeared', () => {
    // Full width at half maximum of a Gaussian: 2 sqrt(2 ln 2) = 2.3548 standard deviations.
    expect(blurWidthMm(2, 4)).toBeCloseTo(Math.sqrt(2 * Math.LN2), 3);
  });

  it('is all or nothing where the scale is the same everywhere', () => {
    const sharp = byteMask(100, 70);
    blockBlurred(sharp, grid, faceOn, 3.3);
    expect(sharp.values.every((v) => v === 0)).toBe(true);
    const soft = byteMask(100, 70);
    soft.values[5] = BLOCKED.clipped;
    blockBlurred(soft, grid, faceOn, 3.5);
    expect(soft.values[5]).toBe(BLOCKED.clipped);
    expect(soft.values.filter((v) => v === BLOCKED.blur)).toHaveLength(100 * 70 - 1);
  });

  it('is the far side of a plane seen askew, where pixels cover more', () => {
    const askew = photoMap(homography([2, 0, 0, 0, 2, 0, 0, 0.01, 1]), lens);
    const mask = byteMask(100, 70);
    blockBlurred(mask, grid, askew, 2);
    const widthAt = (row: number): number => {
      const [x, y] = gridToPlane(grid, 50, row);
      return blurWidthMm(2, pixelsPerUnit(askew, surfacePoint(x, y)));
    };
    expect(widthAt(8)).toBeLessThan(4);
    expect(widthAt(62)).toBeGreaterThan(4);
    expect(mask.values[8 * 100 + 50]).toBe(0);
    expect(mask.values[62 * 100 + 50]).toBe(BLOCKED.blur);
  });
});
