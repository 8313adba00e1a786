import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { surfacePoint } from '../../server/domain/index.ts';
import { fitHomography } from '../../server/measure/geometry/fit-homography.ts';
import { invertHomography, project, projectiveDepth } from '../../server/measure/geometry/homography.ts';
import { photoMap, straightLens, toPhotoPixel, toSurfacePoint } from '../../server/measure/geometry/photo-map.ts';
import { pinholeView } from '../support/picture-of-card.ts';

const photo = { width: 2000, height: 1500 };
const views = fc
  .record({
    cardWidthPx: fc.double({ min: 250, max: 1200, noNaN: true }),
    tilt: fc.double({ min: 0, max: 0.87, noNaN: true }),
    azimuth: fc.double({ min: -Math.PI, max: Math.PI, noNaN: true }),
    roll: fc.double({ min: -Math.PI, max: Math.PI, noNaN: true }),
    focalPx: fc.double({ min: 900, max: 2500, noNaN: true }),
  })
  .map((pose) => pinholeView({ ...photo, ...pose }));
const onPlate = fc
  .tuple(fc.double({ min: -80, max: 240, noNaN: true }), fc.double({ min: -80, max: 190, noNaN: true }))
  .map(([x, y]) => surfacePoint(x, y));

describe('views of the plate by a pinhole camera', () => {
  it('are undone by their inverse', () => {
    fc.assert(
      fc.property(views, onPlate, (view, point) => {
        fc.pre(projectiveDepth(view, point) > 0.1);
        const [x, y] = project(invertHomography(view), project(view, point));
        expect(Math.hypot(x - point[0], y - point[1])).toBeLessThan(1e-6);
      }),
      { seed: 101, numRuns: 400 },
    );
  });

  it('are undone with a bent lens to a hundredth of a millimetre', () => {
    fc.assert(
      fc.property(views, onPlate, fc.double({ min: -0.006, max: 0.006, noNaN: true }), (view, point, bend) => {
        fc.pre(projectiveDepth(view, point) > 0.3);
        const map = photoMap(view, { ...straightLens(photo), bend });
        const pixel = toPhotoPixel(map, point);
        const isInPhoto = pixel[0] > 0 && pixel[1] > 0 && pixel[0] < photo.width && pixel[1] < photo.height;
        fc.pre(isInPhoto);
        const [x, y] = toSurfacePoint(map, pixel);
        expect(Math.hypot(x - point[0], y - point[1])).toBeLessThan(0.02);
      }),
      { seed: 102, numRuns: 400 },
    );
  });

  it('look at the plate at every pixel that shows a point of it', () => {
    fc.assert(
      fc.property(views, onPlate, (view, point) => {
        fc.pre(projectiveDepth(view, point) > 0.05);
        const map = photoMap(view, straightLens(photo));
        expect(projectiveDepth(map.fromIdeal, toPhotoPixel(map, point))).toBeGreaterThan(0);
      }),
      { seed: 103, numRuns: 400 },
    );
  });

  it('are recovered from where the corners of four markers are seen', () => {
    const corners = [3, 24, 128.4, 149.4].flatMap((x) => [3, 24, 77.6, 98.6].map((y) => surfacePoint(x, y)));
    fc.assert(
      fc.property(views, onPlate, (view, point) => {
        fc.pre(projectiveDepth(view, point) > 0.2 && corners.every((corner) => projectiveDepth(view, corner) > 0.2));
        const fit = fitHomography(corners.map((from) => ({ from, to: project(view, from) })));
        const [x, y] = fit === null ? [NaN, NaN] : project(fit.map, point);
        const [u, v] = project(view, point);
        expect(Math.hypot(x - u, y - v)).toBeLessThan(1e-4);
      }),
      { seed: 104, numRuns: 200 },
    );
  });
});
