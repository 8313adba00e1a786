import { photoPoint } from '../../domain/index.ts';
import { projectiveDepth } from '../geometry/homography.ts';
import { straighten, toSurfacePoint } from '../geometry/photo-map.ts';
import { planeToGrid } from '../geometry/surface-grid.ts';
import type { SurfaceView } from '../view-surface.ts';
import type { Segmentation } from './segmentation.ts';

export interface PhotoRaster {
  readonly width: number;
  readonly height: number;
  /** Photo pixels per pixel of this raster. */
  readonly photoPxPerPixel: number;
}

/** Class codes as the photo's pixels see them; `outside` where the zone is not. */
export function codesInPhoto(
  view: SurfaceView,
  { codes }: Pick<Segmentation, 'codes'>,
  raster: PhotoRaster,
  outside: number,
): Uint8Array {
  const { grid, placed, zone } = view;
  const out = new Uint8Array(raster.width * raster.height).fill(outside);
  for (let y = 0, index = 0; y < raster.height; y++) {
    for (let x = 0; x < raster.width; x++, index++) {
      const pixel = photoPoint((x + 0.5) * raster.photoPxPerPixel, (y + 0.5) * raster.photoPxPerPixel);
      if (projectiveDepth(placed.map.fromIdeal, straighten(placed.map.lens, pixel)) <= 0) continue;
      const point = toSurfacePoint(placed.map, pixel);
      const [column, row] = planeToGrid(grid, point[0], point[1]).map(Math.floor);
      if (column < 0 || row < 0 || column >= grid.width || row >= grid.height) continue;
      const at = row * grid.width + column;
      if (zone.values[at] !== 0) out[index] = codes.values[at];
    }
  }
  return out;
}
