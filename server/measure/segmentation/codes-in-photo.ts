import { lensFactor } from '../geometry/photo-map.ts';
import { planeToGrid } from '../geometry/surface-grid.ts';
import type { SurfaceGrid } from '../geometry/surface-grid.ts';
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
  const { lens } = placed.map;
  const [centreX, centreY] = lens.centrePx;
  const h = idealToGrid(placed.map.fromIdeal.elements, grid);
  const out = new Uint8Array(raster.width * raster.height).fill(outside);
  // Millions of pixels: no point is made an object of its own here.
  for (let y = 0, index = 0; y < raster.height; y++) {
    const dy = (y + 0.5) * raster.photoPxPerPixel - centreY;
    for (let x = 0; x < raster.width; x++, index++) {
      const dx = (x + 0.5) * raster.photoPxPerPixel - centreX;
      const factor = lensFactor(lens, dx * dx + dy * dy);
      const u = centreX + dx * factor;
      const v = centreY + dy * factor;
      const depth = h[6] * u + h[7] * v + h[8];
      if (depth <= 0) continue;
      const column = Math.floor((h[0] * u + h[1] * v + h[2]) / depth);
      const row = Math.floor((h[3] * u + h[4] * v + h[5]) / depth);
      if (column < 0 || row < 0 || column >= grid.width || row >= grid.height) continue;
      const at = row * grid.width + column;
      if (zone.values[at] !== 0) out[index] = codes.values[at];
    }
  }
  return out;
}

/** Ideal pixels to grid coordinates, row-major; its depth is that of the map to the plane. */
function idealToGrid(toPlane: readonly number[], grid: SurfaceGrid): Float64Array {
  const [ox, oy] = planeToGrid(grid, 0, 0);
  const [ax, ay] = planeToGrid(grid, 1, 0);
  const [bx, by] = planeToGrid(grid, 0, 1);
  const out = new Float64Array(9);
  for (let k = 0; k < 3; k++) {
    const [x, y, depth] = [toPlane[k], toPlane[3 + k], toPlane[6 + k]];
    out[k] = (ax - ox) * x + (bx - ox) * y + ox * depth;
    out[3 + k] = (ay - oy) * x + (by - oy) * y + oy * depth;
    out[6 + k] = depth;
  }
  return out;
}
