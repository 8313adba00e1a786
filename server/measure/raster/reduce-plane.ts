import { plane } from './plane.ts';
import type { Plane } from './plane.ts';

/**
 * Means over the cells of a coarser raster. A pixel counts in the cell that its corner lies in; cells at the far sides may
 * hold fewer pixels.
 * @param factor pixels of the plane per cell side, >= 1, need not be whole
 */
export function reducePlane(from: Plane, factor: number): Plane {
  const out = plane(Math.ceil(from.width / factor), Math.ceil(from.height / factor));
  const counts = new Uint32Array(out.values.length);
  for (let y = 0, i = 0; y < from.height; y++) {
    const line = Math.floor(y / factor) * out.width;
    for (let x = 0; x < from.width; x++, i++) {
      const to = line + Math.floor(x / factor);
      out.values[to] += from.values[i];
      counts[to]++;
    }
  }
  for (let i = 0; i < counts.length; i++) if (counts[i] > 0) out.values[i] /= counts[i];
  return out;
}
