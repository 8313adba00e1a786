import { describe, expect, it } from 'vitest';
import { addStrokePoint } from '../../../../client/screens/inspect/stroke-points.ts';
import { mapPxPerBrushUnit } from '../../../../client/screens/inspect/brush-size.ts';
import type { Point } from '../../../../client/viewer/plane-geometry.ts';

describe('a stroke', () => {
  it('keeps points a quarter of the brush apart and leaves out those between', () => {
    let points: readonly Point[] = [];
    for (let x = 0; x <= 10; x += 0.5) points = addStrokePoint(points, [x, 0], 8);
    expect(points).toEqual([0, 2, 4, 6, 8, 10].map((x) => [x, 0]));
  });
});

describe('the brush', () => {
  const frame = { photoId: 'p', widthPx: 800, heightPx: 600, fromMm: null, zonePx: null };

  it('is as wide on the steel as it says: at 0.25 mm a photo pixel and 2 photo pixels a map pixel, 2 map pixels a mm', () => {
    expect(mapPxPerBrushUnit({ ...frame, toMm: [0.25, 0, 0, 0, 0.25, 0, 0, 0, 1] }, 2)).toBeCloseTo(2, 9);
  });

  it('counts in pixels of the map where there are no millimetres', () => {
    expect(mapPxPerBrushUnit({ ...frame, toMm: null }, 2)).toBe(1);
  });
});
