import { describe, expect, it } from 'vitest';
import { photoPoint, surfacePoint } from '../../../../server/domain/index.ts';
import { homography, project } from '../../../../server/measure/geometry/homography.ts';
import { linesInMap } from '../../../../server/measure/streaks/lines-in-map.ts';

describe('lines in a map', () => {
  it('are where the plane of the map says, worked out by hand', () => {
    // Half a millimetre a pixel, the card's corner at pixel (100, 60): pixel = 2 mm + (100, 60).
    const planeFromMap = [0.5, 0, -50, 0, 0.5, -30, 0, 0, 1];
    expect(linesInMap([[surfacePoint(10, 0), surfacePoint(10, 20.03)], []], planeFromMap)).toEqual([
      [
        [120, 60],
        [120, 100.1],
      ],
      [],
    ]);
  });

  it('come back to the surface through a tilted plane, to a tenth of a pixel', () => {
    const planeFromMap = [0.4, 0.03, -20, -0.02, 0.5, -10, 0.0002, 0.0001, 1];
    const points = [surfacePoint(5, 8), surfacePoint(60, 90), surfacePoint(-12, 33)];
    const [line] = linesInMap([points], planeFromMap);
    line.forEach(([x, y], index) => {
      const back = project(homography(planeFromMap), photoPoint(x, y));
      // A tenth of a pixel is at most 0.05 mm here.
      expect(Math.hypot(back[0] - points[index][0], back[1] - points[index][1])).toBeLessThan(0.06);
    });
  });
});
