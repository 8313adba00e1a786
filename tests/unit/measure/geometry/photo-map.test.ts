import { describe, expect, it } from 'vitest';
import { photoPoint, surfacePoint } from '../../../../server/domain/index.ts';
import type { PhotoPoint, SurfacePoint } from '../../../../server/domain/index.ts';
import { homography, project } from '../../../../server/measure/geometry/homography.ts';
import {
  bendFactor,
  flatPhotoMap,
  photoDerivative,
  photoMap,
  pixelsPerUnit,
  straighten,
  straightLens,
  toPhotoPixel,
  toSurfacePoint,
} from '../../../../server/measure/geometry/photo-map.ts';

const photo = { width: 4000, height: 3000 };
const toIdeal = homography<SurfacePoint, PhotoPoint>([9, 0.6, 700, -0.4, 8.6, 520, 0.0003, 0.0006, 1]);

describe('the lens', () => {
  it('is undone within 1e-5 of the radius for a bend of up to 0.009 at the corner', () => {
    for (const bend of [-0.009, -0.005, 0.003, 0.009]) {
      const lens = { ...straightLens(photo), bend };
      for (const [x, y] of [
        [2000, 1500],
        [0, 0],
        [3990, 1200],
        [1500, 2990],
      ] as const) {
        const [u, v] = straighten(lens, photoPoint(x, y));
        const [dx, dy] = [u - 2000, v - 1500];
        const factor = bendFactor(bend, (dx * dx + dy * dy) / 2500 ** 2);
        expect(Math.hypot(2000 + dx * factor - x, 1500 + dy * factor - y)).toBeLessThan(2500 * 1e-5);
      }
    }
  });

  it('moves a corner outwards by the bend, as part of the half diagonal', () => {
    // d (1 + bend d^2) at d = 1: the corner stands 0.5 % further out.
    const [x, y] = straighten({ ...straightLens(photo), bend: 0.005 }, photoPoint(0, 0));
    expect(Math.hypot(x - 2000, y - 1500)).toBeCloseTo(2500 * 1.005, 6);
  });

  it('leaves the centre, and a photo without bend, where they are', () => {
    expect([...straighten({ ...straightLens(photo), bend: 0.01 }, photoPoint(2000, 1500))]).toEqual([2000, 1500]);
    expect([...straighten(straightLens(photo), photoPoint(17, 2900))]).toEqual([17, 2900]);
  });
});

describe('the map from the plane to the photo', () => {
  it('comes back to the same point of the surface', () => {
    const map = photoMap(toIdeal, { ...straightLens(photo), bend: 0.004 });
    for (const [x, y] of [
      [0, 0],
      [152.4, 101.6],
      [250, -40],
      [-60, 180],
    ] as const) {
      const [u, v] = toSurfacePoint(map, toPhotoPixel(map, surfacePoint(x, y)));
      expect(Math.hypot(u - x, v - y)).toBeLessThan(0.003);
    }
  });

  it('is the homography alone under a straight lens', () => {
    const map = photoMap(toIdeal, straightLens(photo));
    expect([...toPhotoPixel(map, surfacePoint(80, 30))]).toEqual([...project(toIdeal, surfacePoint(80, 30))]);
  });

  it('is the photo itself without a card', () => {
    const map = flatPhotoMap(photo);
    const [x, y] = toPhotoPixel(map, surfacePoint(123.4, 56.7));
    expect(x).toBeCloseTo(123.4, 9);
    expect(y).toBeCloseTo(56.7, 9);
    expect(pixelsPerUnit(map, surfacePoint(900, 900))).toBeCloseTo(1, 12);
  });

  it('has as scale the square root of the area a square millimetre covers', () => {
    const map = photoMap(homography([8, 0, 0, 0, 2, 0, 0, 0, 1]), straightLens(photo));
    expect(photoDerivative(map, surfacePoint(10, 10))).toEqual([8, 0, 0, 2]);
    expect(pixelsPerUnit(map, surfacePoint(10, 10))).toBeCloseTo(4, 12);
  });
});
