import { surfacePoint } from '../../domain/index.ts';
import type { ByteMask } from '../raster/plane.ts';
import { BLOCKED } from './rectify-photo.ts';
import { pixelsPerUnit } from './photo-map.ts';
import type { PhotoMap } from './photo-map.ts';
import { gridToPlane } from './surface-grid.ts';
import type { SurfaceGrid } from './surface-grid.ts';

/** Full width at half maximum of a Gaussian, in standard deviations. */
const FULL_WIDTH = 2.355;
/** Where a sharp edge is smeared wider than this, specks and rims run together and shares mean nothing, mm (chosen by us). */
const MOST_BLUR_MM = 4;
/** Scale changes slowly: one look per cell of this many pixels a side. */
const CELL = 16;

/** Width over which a sharp edge is smeared at a place of the surface, mm. */
export const blurWidthMm = (edgeBlurPx: number, pxPerMm: number): number => (FULL_WIDTH * edgeBlurPx) / pxPerMm;

/** Marks what a blur of so many photo pixels (standard deviation) smears too far to be measured; a grid in mm only. */
export function blockBlurred(blocked: ByteMask, grid: SurfaceGrid, map: PhotoMap, edgeBlurPx: number): void {
  if (grid.unit !== 'mm') return;
  for (let top = 0; top < grid.height; top += CELL) {
    for (let left = 0; left < grid.width; left += CELL) {
      const [x, y] = gridToPlane(grid, left + CELL / 2, top + CELL / 2);
      if (blurWidthMm(edgeBlurPx, pixelsPerUnit(map, surfacePoint(x, y))) <= MOST_BLUR_MM) continue;
      fillCell(blocked, left, top);
    }
  }
}

function fillCell({ width, height, values }: ByteMask, left: number, top: number): void {
  for (let row = top; row < Math.min(height, top + CELL); row++) {
    for (let i = row * width + left; i < row * width + Math.min(width, left + CELL); i++) {
      if (values[i] === 0) values[i] = BLOCKED.blur;
    }
  }
}
