import { homography } from './homography.ts';
import { polygonArea } from './polygon.ts';
import type { Homography, PhotoPoint, SurfacePoint } from '../../domain/index.ts';

/**
 * Square raster laid on the surface plane. Its pixels are the working raster of everything that follows.
 * `unit` is mm when a card gives the scale, else px of the photo, and then no result may be stated in mm.
 */
export interface SurfaceGrid {
  readonly unit: 'mm' | 'px';
  /** With unit px: a scale that somebody stated, for looking at textures only. */
  readonly statedMmPerPixel?: number;
  readonly width: number;
  readonly height: number;
  /** Side of a grid pixel, units. */
  readonly step: number;
  /** Outer corner of the first pixel, units of the card frame. */
  readonly origin: readonly [x: number, y: number];
  /** Angle of the grid's columns from the card's x axis towards y, radians. */
  readonly angle: number;
}

type Vertex = readonly [number, number];

/** From grid coordinates (pixel (0, 0) covers 0..1) to the plane, units. */
export function gridToPlane(grid: SurfaceGrid, column: number, row: number): [x: number, y: number] {
  const c = Math.cos(grid.angle) * grid.step;
  const s = Math.sin(grid.angle) * grid.step;
  return [grid.origin[0] + c * column - s * row, grid.origin[1] + s * column + c * row];
}

/** From the plane to grid coordinates. */
export function planeToGrid(grid: SurfaceGrid, x: number, y: number): [column: number, row: number] {
  const c = Math.cos(grid.angle) / grid.step;
  const s = Math.sin(grid.angle) / grid.step;
  const dx = x - grid.origin[0];
  const dy = y - grid.origin[1];
  return [c * dx + s * dy, -s * dx + c * dy];
}

/** The map from grid coordinates to ideal pixels of the photo. */
export function gridToIdeal(
  grid: SurfaceGrid,
  toIdeal: Homography<SurfacePoint, PhotoPoint>,
): Homography<SurfacePoint, PhotoPoint> {
  const c = Math.cos(grid.angle) * grid.step;
  const s = Math.sin(grid.angle) * grid.step;
  const [ox, oy] = grid.origin;
  const h = toIdeal.elements;
  const rows = [0, 3, 6].map((r) => [
    h[r] * c + h[r + 1] * s,
    -h[r] * s + h[r + 1] * c,
    h[r] * ox + h[r + 1] * oy + h[r + 2],
  ]);
  return homography(rows.flat());
}

/** Turned rectangles must be smaller than the upright one by this factor to be preferred to it. */
const TURN_GAIN = 0.97;

/**
 * The smallest rectangle round a polygon with a side along one of the polygon's edges, upright when that is about as good:
 * a zone that lies askew to the card gets a raster along its own edges.
 */
export function enclosingRectangle(polygon: readonly Vertex[]): {
  angle: number;
  origin: [number, number];
  size: [number, number];
} {
  let best = rectangleAt(polygon, 0);
  const upright = best.size[0] * best.size[1];
  for (let i = 0; i < polygon.length; i++) {
    const [x0, y0] = polygon[i];
    const [x1, y1] = polygon[(i + 1) % polygon.length];
    const quarter = Math.PI / 2;
    const turned = Math.atan2(y1 - y0, x1 - x0) / quarter;
    const rectangle = rectangleAt(polygon, (turned - Math.round(turned)) * quarter);
    const area = rectangle.size[0] * rectangle.size[1];
    if (area < TURN_GAIN * upright && area < best.size[0] * best.size[1]) best = rectangle;
  }
  return best;
}

function rectangleAt(polygon: readonly Vertex[], angle: number): ReturnType<typeof enclosingRectangle> {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const us = polygon.map(([x, y]) => c * x + s * y);
  const vs = polygon.map(([x, y]) => -s * x + c * y);
  const u = Math.min(...us);
  const v = Math.min(...vs);
  return { angle, origin: [c * u - s * v, s * u + c * v], size: [Math.max(...us) - u, Math.max(...vs) - v] };
}

/**
 * Lays a grid over a polygon.
 * @param finest smallest useful step, units
 * @param mostPixels the step grows until the grid has no more pixels than this
 */
export function layGrid(
  polygon: readonly Vertex[],
  unit: SurfaceGrid['unit'],
  finest: number,
  mostPixels: number,
): SurfaceGrid {
  if (!(polygonArea(polygon as unknown as readonly SurfacePoint[]) > 0)) {
    throw new RangeError('Expected a polygon with an area');
  }
  const { angle, origin, size } = enclosingRectangle(polygon);
  const step = Math.max(finest, Math.sqrt((size[0] * size[1]) / mostPixels));
  return {
    unit,
    width: Math.max(1, Math.ceil(size[0] / step - 1e-6)),
    height: Math.max(1, Math.ceil(size[1] / step - 1e-6)),
    step,
    origin,
    angle,
  };
}
