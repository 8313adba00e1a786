import { photoPoint, surfacePoint } from '../../domain/index.ts';
import type { Homography, PhotoPoint, SurfacePoint } from '../../domain/index.ts';
import { fitHomography } from '../geometry/fit-homography.ts';
import { projectInto } from '../geometry/homography.ts';
import type { GreyRaster } from '../raster/plane.ts';
import type { Quadrilateral } from '../vision-kernel.ts';

/** Grey values of a square's modules, a ring of background around it included, and how clean they are. */
export interface MarkerReading {
  /** Modules along a side, frame included. */
  readonly modules: number;
  /** Payload, rows from the top of the quadrilateral's first side, 1 is white. */
  readonly payload: Uint8Array;
  /** Grey codes between white surround and black frame. */
  readonly contrast: number;
  /** Rms scatter of grey inside modules over contrast: a printed code is clean, a natural texture is not. */
  readonly scatter: number;
}

/** Below this difference between surround and frame, grey codes, a square is not read. */
const LEAST_CONTRAST = 12;
/** Where a module is sampled, in parts of its side: away from its edges, which blur mixes. */
const TAPS = [0.3, 0.5, 0.7];
/** Frame modules that may read as white: a chip, a speck of dirt or a shadow edge. */
const FRAME_ERRORS_PER_MODULE = 0.5;

/**
 * Reads a dark-framed square code.
 * @param modules modules along a side of the square, frame included
 * @returns null when the outline is not a dark frame on a brighter ground
 */
export function readMarker(grey: GreyRaster, outline: Quadrilateral, modules: number): MarkerReading | null {
  const map = moduleMap(outline, modules);
  if (map === null) return null;
  const grid = sampleModules(grey, map, modules);
  if (grid === null) return null;
  const side = modules + 2;
  const ring = collect(side, (column, row) => ringIndex(side, column, row) === 0);
  const frame = collect(side, (column, row) => ringIndex(side, column, row) === 1);
  const bright = fitPlane(grid.mean, ring, side);
  const dark = fitPlane(grid.mean, frame, side);
  const middle = side / 2;
  const contrast = bright(middle, middle) - dark(middle, middle);
  if (contrast < LEAST_CONTRAST) return null;
  const isWhite = (index: number): boolean => {
    const column = index % side;
    const row = Math.floor(index / side);
    return grid.mean[index] > (bright(column, row) + dark(column, row)) / 2;
  };
  if (frame.filter(isWhite).length > FRAME_ERRORS_PER_MODULE * modules) return null;
  if (ring.filter((index) => !isWhite(index)).length > ring.length / 4) return null;
  const inner = collect(side, (column, row) => ringIndex(side, column, row) > 1);
  const variance = [...inner, ...frame].reduce((sum, i) => sum + grid.variance[i], 0) / (inner.length + frame.length);
  return {
    modules,
    payload: Uint8Array.from(inner, (i) => (isWhite(i) ? 1 : 0)),
    contrast,
    scatter: Math.sqrt(variance) / contrast,
  };
}

/** Distance of a module from the edge of the sampled grid: 0 is the surround, 1 the frame, more the payload. */
const ringIndex = (side: number, column: number, row: number): number =>
  Math.min(column, row, side - 1 - column, side - 1 - row);

function collect(side: number, isWanted: (column: number, row: number) => boolean): number[] {
  const found: number[] = [];
  for (let row = 0; row < side; row++) {
    for (let column = 0; column < side; column++) if (isWanted(column, row)) found.push(row * side + column);
  }
  return found;
}

/** From module coordinates (0..modules on each side) to pixels of the raster. */
function moduleMap(outline: Quadrilateral, modules: number): Homography<SurfacePoint, PhotoPoint> | null {
  const corners = [
    [0, 0],
    [modules, 0],
    [modules, modules],
    [0, modules],
  ];
  const fit = fitHomography(
    outline.map((point, i) => ({
      from: surfacePoint(corners[i][0], corners[i][1]),
      to: photoPoint(point[0], point[1]),
    })),
  );
  return fit?.map ?? null;
}

function sampleModules(
  grey: GreyRaster,
  map: Homography<SurfacePoint, PhotoPoint>,
  modules: number,
): { mean: Float64Array; variance: Float64Array } | null {
  const side = modules + 2;
  const mean = new Float64Array(side * side);
  const variance = new Float64Array(side * side);
  const out = new Float64Array(3);
  for (let index = 0; index < mean.length; index++) {
    const column = (index % side) - 1;
    const row = Math.floor(index / side) - 1;
    let sum = 0;
    let squares = 0;
    for (const dy of TAPS) {
      for (const dx of TAPS) {
        projectInto(map, column + dx, row + dy, out);
        const value = greyAt(grey, out[0], out[1]);
        sum += value;
        squares += value * value;
      }
    }
    const taps = TAPS.length * TAPS.length;
    mean[index] = sum / taps;
    variance[index] = Math.max(0, squares / taps - (sum / taps) ** 2);
    if (!(out[2] > 0)) return null;
  }
  return { mean, variance };
}

/** Bilinear grey; outside the raster the nearest pixel stands in. */
function greyAt(grey: GreyRaster, x: number, y: number): number {
  const px = Math.min(Math.max(x - 0.5, 0), grey.width - 1.001);
  const py = Math.min(Math.max(y - 0.5, 0), grey.height - 1.001);
  const column = Math.floor(px);
  const row = Math.floor(py);
  const i = row * grey.width + column;
  const v = grey.values;
  const fx = px - column;
  const fy = py - row;
  return (
    (v[i] * (1 - fx) + v[i + 1] * fx) * (1 - fy) + (v[i + grey.width] * (1 - fx) + v[i + grey.width + 1] * fx) * fy
  );
}

/** Least-squares plane through ring values: light may fall across a marker. The ring is symmetric, so the fit separates. */
function fitPlane(
  values: Float64Array,
  indices: readonly number[],
  side: number,
): (column: number, row: number) => number {
  const middle = (side - 1) / 2;
  let mean = 0;
  let alongColumn = 0;
  let alongRow = 0;
  let spread = 0;
  for (const index of indices) {
    const dx = (index % side) - middle;
    const dy = Math.floor(index / side) - middle;
    mean += values[index] / indices.length;
    alongColumn += values[index] * dx;
    alongRow += values[index] * dy;
    spread += dx * dx;
  }
  return (column, row) => mean + ((column - middle) * alongColumn + (row - middle) * alongRow) / spread;
}
