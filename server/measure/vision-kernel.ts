import type { PhotoPoint } from '../domain/index.ts';
import type { GreyRaster } from './raster/plane.ts';

/** Four corners in pixels of the searched raster, clockwise as seen. */
export type Quadrilateral = readonly [PhotoPoint, PhotoPoint, PhotoPoint, PhotoPoint];

export interface QuadrilateralSearch {
  /** Side of the square over which the local mean is taken, odd, px. */
  readonly windowPx: number;
  /** How much darker than the local mean a pixel must be, grey codes. */
  readonly offset: number;
  readonly leastSidePx: number;
}

/** The same mark seen in two rasters: positions in pixels of each. */
export interface KeypointMatch {
  readonly first: readonly [x: number, y: number];
  readonly second: readonly [x: number, y: number];
}

/** Classical computer vision that a library does well; the measuring core states what it needs and knows no library. */
export interface VisionKernel {
  /** Outlines of regions darker than their surroundings that are convex and four-sided. */
  findDarkQuadrilaterals(grey: GreyRaster, search: QuadrilateralSearch): Quadrilateral[];
  /** Marks that look alike in both rasters, each matched to its mutual best partner. */
  matchKeypoints(first: GreyRaster, second: GreyRaster, mostKeypoints: number): KeypointMatch[];
}
