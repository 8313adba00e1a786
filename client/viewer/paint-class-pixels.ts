import { OUTSIDE_CODE } from '@domain/paint-class-map.ts';
import type { ClassMap } from '@domain/paint-class-map.ts';
import { CLASS_CODE, NOT_MEASURED_CODE } from '@domain/surface.ts';
import type { Affine } from './affine.ts';
import { CLASS_LOOKS, DOUBTFUL_CODE } from './class-look.ts';
import type { ClassLook, Marked } from './class-look.ts';

export interface ClassPaint {
  readonly widthPx: number;
  readonly heightPx: number;
  /** From pixels of this picture to pixels of the class map. */
  readonly toMap: Affine;
  readonly shown: ReadonlySet<Marked>;
  /** Size of the patterns, pixels of this picture. */
  readonly unitPx: number;
}

const CODE_OF: Readonly<Record<Marked, number>> = {
  stain: CLASS_CODE.stain,
  rust: CLASS_CODE.rust,
  scale: CLASS_CODE.scale,
  coating: CLASS_CODE.coating,
  notMeasured: NOT_MEASURED_CODE,
  doubtful: DOUBTFUL_CODE,
};
const RIM_SHADE = 0.45;
const OPAQUE = 255;

/**
 * Classes as seen through a window onto the class map: a pattern for each, and a rim where a class ends, whatever the zoom.
 * RGBA, 8 bit, straight alpha; what is not shown stays clear.
 */
export function paintClassPixels(map: ClassMap, paint: ClassPaint): Uint8ClampedArray<ArrayBuffer> {
  const { widthPx, heightPx, toMap, unitPx } = paint;
  const codes = codesInWindow(map, { widthPx, heightPx, toMap });
  const looks = looksByCode(paint.shown);
  const pixels = new Uint8ClampedArray(4 * widthPx * heightPx);
  for (let y = 0, index = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++, index++) {
      const look = looks[codes[index]];
      if (look === undefined) continue;
      const isRim = codes[index] !== NOT_MEASURED_CODE && isRimAt(codes, index, { x, y, widthPx, heightPx });
      if (isRim) ink(pixels, index, look.colour, RIM_SHADE);
      else if (look.isInked(x, y, unitPx)) ink(pixels, index, look.colour, 1);
    }
  }
  return pixels;
}

function codesInWindow(
  map: ClassMap,
  { widthPx, heightPx, toMap }: Pick<ClassPaint, 'widthPx' | 'heightPx' | 'toMap'>,
): Uint8Array {
  const [a, b, c, d, e, f] = toMap;
  const codes = new Uint8Array(widthPx * heightPx).fill(OUTSIDE_CODE);
  for (let y = 0, index = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++, index++) {
      const column = Math.floor(a * (x + 0.5) + c * (y + 0.5) + e);
      const row = Math.floor(b * (x + 0.5) + d * (y + 0.5) + f);
      const isInside = column >= 0 && row >= 0 && column < map.width && row < map.height;
      if (isInside) codes[index] = map.codes[row * map.width + column];
    }
  }
  return codes;
}

function looksByCode(shown: ReadonlySet<Marked>): readonly (ClassLook | undefined)[] {
  const looks: (ClassLook | undefined)[] = new Array<undefined>(OUTSIDE_CODE + 1).fill(undefined);
  for (const marked of shown) looks[CODE_OF[marked]] = CLASS_LOOKS[marked];
  return looks;
}

/** The last pixel of a class before another one, to the left, right, above or below. */
function isRimAt(
  codes: Uint8Array,
  index: number,
  { x, y, widthPx, heightPx }: { x: number; y: number; widthPx: number; heightPx: number },
): boolean {
  const code = codes[index];
  return (
    (x > 0 && codes[index - 1] !== code) ||
    (x + 1 < widthPx && codes[index + 1] !== code) ||
    (y > 0 && codes[index - widthPx] !== code) ||
    (y + 1 < heightPx && codes[index + widthPx] !== code)
  );
}

function ink(pixels: Uint8ClampedArray, index: number, colour: ClassLook['colour'], shade: number): void {
  pixels[4 * index] = colour[0] * shade;
  pixels[4 * index + 1] = colour[1] * shade;
  pixels[4 * index + 2] = colour[2] * shade;
  pixels[4 * index + 3] = OPAQUE;
}
