import { surfacePoint } from '../../domain/index.ts';
import type { SurfaceInPhoto } from '../../domain/index.ts';
import { OUTSIDE_CODE } from '../../domain/paint-class-map.ts';
import type { ClassMap } from '../../domain/paint-class-map.ts';
import { homography } from '../geometry/homography.ts';
import { photoMap, pixelsPerUnit, toPhotoPixel } from '../geometry/photo-map.ts';
import { gridToPlane, layGrid } from '../geometry/surface-grid.ts';
import { byteMask } from '../raster/plane.ts';
import type { UnitAreaSearch } from '../residue/worst-unit-area.ts';

/** Fine enough for shares of a 76 mm square: over 23 000 samples each. */
const FINEST_STEP_MM = 0.5;
/** A person waits for it while painting. */
const MOST_GRID_PIXELS = 400_000;

export interface MapInPhoto {
  readonly map: ClassMap;
  readonly photoPxPerPixel: number;
}

/** A class map brought from the photo's pixels to the raster of the zone, along the zone's own edges as in measuring. */
export function mapOnGrid({ map, photoPxPerPixel }: MapInPhoto, surface: SurfaceInPhoto): UnitAreaSearch {
  const { zoneMm, lens, toIdealPx } = surface;
  const view = photoMap(homography(toIdealPx), lens);
  const mapPixel = photoPxPerPixel / pixelsPerUnit(view, surfacePoint(...middleOf(zoneMm)));
  const grid = layGrid(zoneMm, 'mm', Math.max(FINEST_STEP_MM, mapPixel), MOST_GRID_PIXELS);
  const [zone, codes] = [byteMask(grid.width, grid.height), byteMask(grid.width, grid.height)];
  for (let row = 0, index = 0; row < grid.height; row++) {
    for (let column = 0; column < grid.width; column++, index++) {
      const [u, v] = toPhotoPixel(view, surfacePoint(...gridToPlane(grid, column + 0.5, row + 0.5)));
      const [x, y] = [Math.floor(u / photoPxPerPixel), Math.floor(v / photoPxPerPixel)];
      if (x < 0 || y < 0 || x >= map.width || y >= map.height) continue;
      const code = map.codes[y * map.width + x];
      if (code === OUTSIDE_CODE) continue;
      zone.values[index] = 1;
      codes.values[index] = code;
    }
  }
  return { grid, zone, codes };
}

function middleOf(polygon: readonly (readonly [number, number])[]): [x: number, y: number] {
  const sum = polygon.reduce<[number, number]>((s, [x, y]) => [s[0] + x, s[1] + y], [0, 0]);
  return [sum[0] / polygon.length, sum[1] / polygon.length];
}
