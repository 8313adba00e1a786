import type { SurfacePoint } from '../../domain/index.ts';
import type { PhaseMap } from './waves/phase-map.ts';
import type { PeriodicWave } from './waves/periodic-wave.ts';
import { middleOf } from './bands/profile-levels.ts';
import type { DarkRun } from './bands/profile-levels.ts';
import type { ReducedSurface } from './surface/reduce-surface.ts';
import type { Extent, StripeFrame } from './bands/strip-profiles.ts';

/** A line on the raster, mm from its corner. */
type RasterPoint = readonly [x: number, y: number];
export type ToSurface = (x: number, y: number) => SurfacePoint;
export type CentreLine = readonly SurfacePoint[];

/** Lines drawn at most: of finer stripes every second, third, ... */
const MOST_LINES = 120;
/** Distance between the points of a line, mm; a gap of this many of them ends it. */
const POINT_STEP_MM = 4;
const MOST_GAP = 2;
const LEAST_LENGTH_MM = 10;

/** Middle lines of bands, along the bend of their frame, where the surface is usable. */
export function bandLines(
  runs: readonly DarkRun[],
  place: { frame: StripeFrame; extent: Extent; surface: ReducedSurface; toSurface: ToSurface },
): CentreLine[] {
  const { frame, extent, surface, toSurface } = place;
  const [cos, sin] = [Math.cos(frame.angle), Math.sin(frame.angle)];
  return runs.flatMap((run) => {
    const middle = middleOf(run);
    return traceLine(extent.reachMm, (along) => {
      const across = middle + (frame.bendPerMm / 2) * along * along;
      const x = extent.middleX + along * cos - across * sin;
      const y = extent.middleY + along * sin + across * cos;
      return isUsable(surface, x, y) ? [x, y] : null;
    }).map((line) => line.map(([x, y]) => toSurface(x, y)));
  });
}

/** Middle lines of even stripes, followed by their phase where they are covered. */
export function stripeLines(
  periodic: PeriodicWave,
  phase: PhaseMap,
  place: { darkCycle: number; surface: ReducedSurface; toSurface: ToSurface },
): CentreLine[] {
  const { surface, toSurface } = place;
  const { wave, pitchMm } = periodic;
  const [nx, ny] = [wave.kx * pitchMm, wave.ky * pitchMm];
  const [width, height] = [surface.width * surface.stepMm, surface.height * surface.stepMm];
  const reach = Math.hypot(width, height) / 2;
  const count = Math.ceil((2 * reach) / pitchMm);
  const every = Math.max(1, Math.ceil(count / MOST_LINES));
  const origin = Math.round(phase.cyclesAt(width / 2, height / 2)) + place.darkCycle;
  const lines: CentreLine[] = [];
  for (let n = -Math.ceil(count / 2); n <= count / 2; n += every) {
    let across = n * pitchMm;
    const follow = (along: number): RasterPoint | null => {
      const at = (offset: number): RasterPoint => [
        width / 2 + along * ny + offset * nx,
        height / 2 - along * nx + offset * ny,
      ];
      // Two steps towards the wanted phase: a cycle is one pitch.
      for (let step = 0; step < 2; step++) {
        across += Math.max(-1, Math.min(1, origin + n - phase.cyclesAt(...at(across)))) * pitchMm;
      }
      const [x, y] = at(across);
      return isUsable(surface, x, y) && phase.isCovered(x, y) ? [x, y] : null;
    };
    lines.push(...traceLine(reach, follow).map((line) => line.map(([x, y]) => toSurface(x, y))));
  }
  return lines;
}

function isUsable(surface: ReducedSurface, x: number, y: number): boolean {
  const column = Math.floor(x / surface.stepMm);
  const row = Math.floor(y / surface.stepMm);
  if (column < 0 || row < 0 || column >= surface.width || row >= surface.height) return false;
  return surface.weight[row * surface.width + column] > 0.5;
}

/** Walks along a line and keeps its connected parts. */
function traceLine(reachMm: number, at: (along: number) => RasterPoint | null): RasterPoint[][] {
  const parts: RasterPoint[][] = [];
  let part: RasterPoint[] = [];
  let gap = 0;
  for (let along = -reachMm; along <= reachMm; along += POINT_STEP_MM) {
    const point = at(along);
    if (point !== null) {
      part.push(point);
      gap = 0;
    } else if (++gap > MOST_GAP && part.length > 0) {
      parts.push(part);
      part = [];
    }
  }
  parts.push(part);
  return parts.filter((points) => points.length > 1 && (points.length - 1) * POINT_STEP_MM >= LEAST_LENGTH_MM);
}
