import { CLASS_CODE } from '../../domain/index.ts';
import type { LabPlanes } from '../colour/lab-planes.ts';
import { byteMask, plane } from '../raster/plane.ts';
import type { ByteMask, Plane } from '../raster/plane.ts';
import type { ClassedSurface } from './plain-steel.ts';

/** Windows that stand for a large surface, and their side; together they are more than the eye looks at. */
const MOST_WINDOWS = 12;
const WINDOW_MM = 32;
/** A window with less bare surface is not worth its time. */
const LEAST_BARE_SHARE = 0.15;
/** Wider than any two pixels that are compared, mm. */
const GAP_MM = 5;

/**
 * A surface of bounded size that looks like a large one: windows spread over its bare part, one under the other, with gaps
 * between them that are no part of the zone. A surface that is small anyway is itself.
 */
export function spreadWindows(surface: ClassedSurface): ClassedSurface {
  const { codes, stepMm } = surface;
  const side = Math.round(WINDOW_MM / stepMm);
  if (codes.values.length <= MOST_WINDOWS * side * side) return surface;
  const corners = bareWindows(codes, side);
  const stride = Math.max(1, corners.length / MOST_WINDOWS);
  const chosen = Array.from(
    { length: Math.min(MOST_WINDOWS, corners.length) },
    (_, n) => corners[Math.floor(n * stride)],
  );
  const sheet = { side, pitch: side + Math.ceil(GAP_MM / stepMm), corners: chosen };
  const { L, a, b } = surface.lab;
  const lab: LabPlanes = { L: planeOn(sheet, L), a: planeOn(sheet, a), b: planeOn(sheet, b) };
  return { lab, codes: maskOn(sheet, codes), zone: maskOn(sheet, surface.zone), stepMm };
}

/** Left and top of each. */
type Corner = readonly [left: number, top: number];

interface Sheet {
  readonly side: number;
  /** Rows from one window's top to the next one's. */
  readonly pitch: number;
  readonly corners: readonly Corner[];
}

function bareWindows({ width, height, values }: ByteMask, side: number): Corner[] {
  const found: Corner[] = [];
  for (let top = 0; top + side <= height; top += side) {
    for (let left = 0; left + side <= width; left += side) {
      let count = 0;
      for (let row = top; row < top + side; row++) {
        for (let i = row * width + left; i < row * width + left + side; i++) {
          if (values[i] === CLASS_CODE.bare) count++;
        }
      }
      if (count >= LEAST_BARE_SHARE * side * side) found.push([left, top]);
    }
  }
  return found;
}

const heightOf = ({ pitch, corners }: Sheet): number => Math.max(1, pitch * corners.length);

function planeOn(sheet: Sheet, source: Plane): Plane {
  const out = plane(sheet.side, heightOf(sheet));
  copyWindows(sheet, source, out);
  return out;
}

function maskOn(sheet: Sheet, source: ByteMask): ByteMask {
  const out = byteMask(sheet.side, heightOf(sheet));
  copyWindows(sheet, source, out);
  return out;
}

interface Raster<Values> {
  readonly width: number;
  readonly values: Values;
}

function copyWindows<Values extends Float32Array | Uint8Array>(
  { side, pitch, corners }: Sheet,
  from: Raster<Values>,
  to: Raster<Values>,
): void {
  corners.forEach(([left, top], n) => {
    for (let row = 0; row < side; row++) {
      const start = (top + row) * from.width + left;
      to.values.set(from.values.subarray(start, start + side), (n * pitch + row) * side);
    }
  });
}
