import { photoPoint } from '../../domain/index.ts';
import type { MarkerCorner, PhotoPoint } from '../../domain/index.ts';
import type { GreyRaster } from '../raster/plane.ts';
import type { Quadrilateral, VisionKernel } from '../vision-kernel.ts';
import { matchPayload } from './code-book.ts';
import { readMarker } from './read-marker.ts';
import type { MarkerReading } from './read-marker.ts';

/** A marker of the code book seen in the photo. */
export interface FoundMarker {
  readonly edition: number;
  readonly corner: MarkerCorner;
  /** Corners of the black square, px of the full photo: top left, top right, bottom right, bottom left of the upright card. */
  readonly corners: readonly PhotoPoint[];
  readonly bitErrors: number;
}

export interface MarkerSearch {
  readonly markers: readonly FoundMarker[];
  /** Clean dark-framed codes that are in no edition of the book. */
  readonly foreign: number;
}

/** Thresholding windows, px of the searched raster: the small one keeps large markers apart from shadow edges, the large one keeps blurred small ones whole. */
const WINDOWS_PX = [21, 61] as const;
const THRESHOLD_OFFSET = 6;
const LEAST_SIDE_PX = 10;
const MARKER_MODULES = 7;
/** Scatter inside modules, parts of contrast, above which a dark-framed square is natural texture, not print. */
const MOST_PRINT_SCATTER = 0.12;
const OTHER_MODULES = [5, 6, 7, 8] as const;
const PAYLOAD_BALANCE = 0.2;

/**
 * @param scale photo pixels per pixel of `grey`
 */
export function findMarkers(grey: GreyRaster, scale: number, kernel: VisionKernel): MarkerSearch {
  const markers: FoundMarker[] = [];
  const unknown: Quadrilateral[] = [];
  for (const windowPx of WINDOWS_PX) {
    const search = { windowPx, offset: THRESHOLD_OFFSET, leastSidePx: LEAST_SIDE_PX };
    for (const outline of kernel.findDarkQuadrilaterals(grey, search)) {
      const marker = identify(grey, outline, scale);
      if (marker !== null) addOnce(markers, marker);
      else if (isForeignMarker(grey, outline)) addOutlineOnce(unknown, outline);
    }
  }
  return { markers, foreign: similarInSize(unknown) };
}

function identify(grey: GreyRaster, outline: Quadrilateral, scale: number): FoundMarker | null {
  const reading = readMarker(grey, outline, MARKER_MODULES);
  const match = reading === null ? null : matchPayload(reading.payload);
  if (match === null) return null;
  // The outline starts anywhere; turn it so that it starts at the code's own top left corner.
  const corners = [0, 1, 2, 3].map((i) => {
    const [x, y] = outline[(i + match.quarterTurns) % 4];
    return photoPoint(x * scale, y * scale);
  });
  return { edition: match.edition, corner: match.corner, corners, bitErrors: match.bitErrors };
}

function centreOf(corners: readonly PhotoPoint[]): readonly [x: number, y: number, sidePx: number] {
  const x = corners.reduce((sum, p) => sum + p[0], 0) / 4;
  const y = corners.reduce((sum, p) => sum + p[1], 0) / 4;
  const half = corners.reduce((sum, p) => sum + Math.hypot(p[0] - x, p[1] - y), 0) / 4;
  return [x, y, half * Math.SQRT2];
}

function isSamePlace(a: readonly PhotoPoint[], b: readonly PhotoPoint[]): boolean {
  const [ax, ay, side] = centreOf(a);
  const [bx, by] = centreOf(b);
  return Math.hypot(ax - bx, ay - by) < side / 2;
}

/** Keeps the reading with fewer bit errors where one marker is seen twice. */
function addOnce(markers: FoundMarker[], marker: FoundMarker): void {
  const twin = markers.findIndex((known) => isSamePlace(known.corners, marker.corners));
  if (twin < 0) markers.push(marker);
  else if (marker.bitErrors < markers[twin].bitErrors) markers[twin] = marker;
}

function addOutlineOnce(outlines: Quadrilateral[], outline: Quadrilateral): void {
  if (!outlines.some((known) => isSamePlace(known, outline))) outlines.push(outline);
}

function isForeignMarker(grey: GreyRaster, outline: Quadrilateral): boolean {
  return OTHER_MODULES.some((modules) => {
    const reading = readMarker(grey, outline, modules);
    return reading !== null && isPrinted(reading);
  });
}

function isPrinted(reading: MarkerReading): boolean {
  const white = reading.payload.reduce((sum, bit) => sum + bit, 0) / reading.payload.length;
  return reading.scatter < MOST_PRINT_SCATTER && white > PAYLOAD_BALANCE && white < 1 - PAYLOAD_BALANCE;
}

/** Size of the largest group of squares within a factor of 1.6 of each other: markers of one card are alike in size. */
function similarInSize(outlines: readonly Quadrilateral[]): number {
  const sides = outlines.map((outline) => centreOf(outline)[2]);
  return Math.max(0, ...sides.map((side) => sides.filter((s) => s >= side && s <= 1.6 * side).length));
}
