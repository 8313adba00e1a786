import type { RectangleMm } from '../../domain/index.ts';
import type { Srgb8 } from '../../measure/card/card-drawing.ts';
import { decodeSrgb, srgb8FromLinear } from '../../measure/colour/srgb.ts';

/** An 8-bit sRGB picture that starts white, with a scale from millimetres to pixels. */
export interface FlatCanvas {
  readonly width: number;
  readonly height: number;
  readonly pixelsPerMm: number;
  readonly pixels: Uint8Array;
}

/** Part of every pixel of a window that is covered, 0..1, rows from the top left. */
export interface Coverage {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
  readonly values: Float32Array;
}

export const flatCanvas = (width: number, height: number, pixelsPerMm: number): FlatCanvas => ({
  width,
  height,
  pixelsPerMm,
  pixels: new Uint8Array(3 * width * height).fill(255),
});

/** Fills areas that do not overlap with one colour; pixels on an edge get the part that is covered. */
export function fillAreas(canvas: FlatCanvas, areas: readonly RectangleMm[], colour: Srgb8): void {
  if (areas.length > 0) paintCoverage(canvas, coverageOf(canvas, areas), colour);
}

/**
 * Blends a colour in, by the light it sends: a half covered pixel reflects half of either, as paper under a lens does.
 * A pixel counts as fully covered from 0.9999 on, so that flat parts carry exactly the colour's code.
 */
export function paintCoverage(canvas: FlatCanvas, coverage: Coverage, colour: Srgb8): void {
  const light = colour.map((code) => decodeSrgb(code / 255));
  for (let row = 0; row < coverage.height; row++) {
    const y = coverage.top + row;
    if (y < 0 || y >= canvas.height) continue;
    for (let column = 0; column < coverage.width; column++) {
      const x = coverage.left + column;
      const share = coverage.values[row * coverage.width + column];
      if (share <= 0.0001 || x < 0 || x >= canvas.width) continue;
      const at = 3 * (y * canvas.width + x);
      for (let channel = 0; channel < 3; channel++) {
        const under = canvas.pixels[at + channel];
        canvas.pixels[at + channel] =
          share >= 0.9999
            ? colour[channel]
            : srgb8FromLinear(share * light[channel] + (1 - share) * decodeSrgb(under / 255));
      }
    }
  }
}

function coverageOf({ pixelsPerMm }: FlatCanvas, areas: readonly RectangleMm[]): Coverage {
  const left = Math.floor(Math.min(...areas.map((a) => a.x)) * pixelsPerMm + 1e-6);
  const top = Math.floor(Math.min(...areas.map((a) => a.y)) * pixelsPerMm + 1e-6);
  const width = Math.ceil(Math.max(...areas.map((a) => a.x + a.width)) * pixelsPerMm - 1e-6) - left;
  const height = Math.ceil(Math.max(...areas.map((a) => a.y + a.height)) * pixelsPerMm - 1e-6) - top;
  const values = new Float32Array(width * height);
  for (const area of areas) {
    const across = spanCoverage(area.x * pixelsPerMm - left, (area.x + area.width) * pixelsPerMm - left, width);
    const down = spanCoverage(area.y * pixelsPerMm - top, (area.y + area.height) * pixelsPerMm - top, height);
    for (let row = down.first; row < down.end; row++) {
      for (let column = across.first; column < across.end; column++) {
        values[row * width + column] += down.parts[row - down.first] * across.parts[column - across.first];
      }
    }
  }
  return { left, top, width, height, values };
}

/** Which pixels of a line a span touches, and how much of each it covers. */
function spanCoverage(from: number, to: number, length: number): { first: number; end: number; parts: number[] } {
  const first = Math.max(0, Math.floor(from + 1e-6));
  const end = Math.min(length, Math.ceil(to - 1e-6));
  const parts = Array.from({ length: Math.max(0, end - first) }, (_pixel, index) =>
    Math.max(0, Math.min(to, first + index + 1) - Math.max(from, first + index)),
  );
  return { first, end, parts };
}
