import { describe, expect, it } from 'vitest';
import { surfacePoint } from '../../../../server/domain/index.ts';
import { photoMap, straightLens, toPhotoPixel } from '../../../../server/measure/geometry/photo-map.ts';
import { layGrid } from '../../../../server/measure/geometry/surface-grid.ts';
import { byteMask } from '../../../../server/measure/raster/plane.ts';
import { codesInPhoto } from '../../../../server/measure/segmentation/codes-in-photo.ts';
import type { Segmentation } from '../../../../server/measure/segmentation/segmentation.ts';
import type { SurfaceView } from '../../../../server/measure/view-surface.ts';
import { pinholeView } from '../../../support/picture-of-card.ts';
import { plainView } from '../../../support/plain-view.ts';

function segmentationOf(view: SurfaceView, code: (column: number, row: number) => number): Segmentation {
  const { width, height } = view.grid;
  const codes = byteMask(width, height);
  for (let i = 0; i < codes.values.length; i++) codes.values[i] = code(i % width, Math.floor(i / width));
  const layer = (): Uint8Array => new Uint8Array(width * height);
  return {
    segmenter: 'by hand',
    codes,
    probabilities: [layer(), layer(), layer(), layer(), layer()],
    blocked: byteMask(width, height),
    doubtful: null,
    underDwell: null,
    shareSigma: { bare: 0, stain: 0, rust: 0, scale: 0, coating: 0, residue: 0 },
  };
}

describe('the class map in the photo’s pixels', () => {
  it('is the grid itself where the photo is the plane', () => {
    const view = plainView({ width: 9, height: 5, stepMm: null }, () => [50, 0, 0]);
    const segmentation = segmentationOf(view, (column, row) => 1 + ((column + row) % 5));
    const codes = codesInPhoto(view, segmentation, { width: 9, height: 5, photoPxPerPixel: 1 }, 255);
    expect(codes).toEqual(segmentation.codes.values);
  });

  it('has the outside value where the zone is not', () => {
    const view = plainView({ width: 4, height: 4, stepMm: null }, () => [50, 0, 0]);
    view.zone.values[5] = 0;
    const codes = codesInPhoto(
      view,
      segmentationOf(view, () => 3),
      { width: 6, height: 5, photoPxPerPixel: 1 },
      255,
    );
    expect(codes[6 + 1]).toBe(255);
    expect(codes[5]).toBe(255);
    expect(codes.filter((code) => code === 3)).toHaveLength(15);
  });

  it('halves with a raster of half the size', () => {
    const view = plainView({ width: 8, height: 6, stepMm: null }, () => [50, 0, 0]);
    const segmentation = segmentationOf(view, (column) => (column < 4 ? 1 : 3));
    const codes = codesInPhoto(view, segmentation, { width: 4, height: 3, photoPxPerPixel: 2 }, 0);
    expect([...codes]).toEqual([1, 1, 3, 3, 1, 1, 3, 3, 1, 1, 3, 3]);
  });

  it('shows nothing above the horizon, also where the photo’s first pixel looks above it', () => {
    const photo = { width: 300, height: 225 };
    const tilt = (75 * Math.PI) / 180;
    const toPhoto = pinholeView({ ...photo, cardWidthPx: 100, tilt, azimuth: -Math.PI / 2, roll: 0, focalPx: 200 });
    const map = photoMap(toPhoto, straightLens(photo));
    const polygon = [surfacePoint(0, 0), surfacePoint(150, 0), surfacePoint(150, 100), surfacePoint(0, 100)];
    const grid = layGrid(polygon, 'mm', 1, 1e6);
    const plain = plainView({ width: grid.width, height: grid.height, stepMm: 1 }, () => [50, 0, 0]);
    const view: SurfaceView = { ...plain, grid, placed: { ...plain.placed, polygon, map } };
    const codes = codesInPhoto(
      view,
      segmentationOf(view, () => 1),
      { ...photo, photoPxPerPixel: 1 },
      0,
    );
    const [x, y] = toPhotoPixel(map, surfacePoint(75, 50)).map(Math.floor);
    expect(codes[y * 300 + x]).toBe(1);
    // The horizon lies 200 / tan 75 = 54 px above the middle, at row 59.
    expect([...codes.subarray(0, 58 * 300)].every((code) => code === 0)).toBe(true);
  });
});
