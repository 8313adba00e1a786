import type { ByteMask } from './plane.ts';

/**
 * Sets `value` in every pixel whose centre lies inside a polygon given in pixel coordinates (even-odd rule).
 * Vertices may lie outside the mask.
 */
export function fillPolygon(mask: ByteMask, polygon: readonly (readonly [number, number])[], value: number): void {
  const { width, height, values } = mask;
  for (let row = 0; row < height; row++) {
    const y = row + 0.5;
    const crossings: number[] = [];
    for (let i = 0; i < polygon.length; i++) {
      const [x0, y0] = polygon[i];
      const [x1, y1] = polygon[(i + 1) % polygon.length];
      if (y0 <= y !== y1 <= y) crossings.push(x0 + ((y - y0) * (x1 - x0)) / (y1 - y0));
    }
    crossings.sort((a, b) => a - b);
    for (let k = 0; k + 1 < crossings.length; k += 2) {
      const from = Math.max(0, Math.ceil(crossings[k] - 0.5));
      const to = Math.min(width, Math.ceil(crossings[k + 1] - 0.5));
      if (to > from) values.fill(value, row * width + from, row * width + to);
    }
  }
}
