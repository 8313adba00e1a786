import { CLASS_CODE } from '../../../domain/index.ts';
import type { PhotoRaster } from '../../../measure/segmentation/codes-in-photo.ts';
import { codesInPhoto } from '../../../measure/segmentation/codes-in-photo.ts';
import type { Segmentation } from '../../../measure/segmentation/segmentation.ts';
import type { SurfaceView } from '../../../measure/view-surface.ts';
import { LOOK_OF_CODE } from './class-look.ts';

export interface PaintSize extends PhotoRaster {
  /** Size of the patterns, overlay pixels. */
  readonly unit: number;
}

const OUTSIDE = 255;
const INK_ALPHA = 215;
const RIM_ALPHA = 255;
const RIM_SHADE = 0.45;
const DIM_ALPHA = 110;
const NOT_MEASURED_ALPHA = 150;

/**
 * The class map as a see-through picture over the photo: a pattern per class, a rim where classes meet, and everything
 * outside the zone dimmed. RGBA, 8 bit, straight alpha.
 */
export function paintClasses(view: SurfaceView, segmentation: Segmentation, size: PaintSize): Uint8Array {
  const codes = codesInPhoto(view, segmentation, size, OUTSIDE);
  const pixels = new Uint8Array(4 * size.width * size.height);
  for (let y = 0, index = 0; y < size.height; y++) {
    for (let x = 0; x < size.width; x++, index++) {
      const code = codes[index];
      if (code === OUTSIDE) {
        pixels[4 * index + 3] = DIM_ALPHA;
        continue;
      }
      const look = LOOK_OF_CODE[code];
      if (isRim(codes, size, x, y)) ink(pixels, index, rimColour(codes, size, index), RIM_ALPHA);
      else if (look?.isInked(x, y, size.unit) === true) {
        ink(pixels, index, look.colour, code === 0 ? NOT_MEASURED_ALPHA : INK_ALPHA);
      }
    }
  }
  return pixels;
}

/** Bare steel needs no rim of its own; a rim runs round everything else. */
function isRim(codes: Uint8Array, size: PaintSize, x: number, y: number): boolean {
  const index = y * size.width + x;
  const here = codes[index];
  const right = x + 1 < size.width ? codes[index + 1] : here;
  const below = y + 1 < size.height ? codes[index + size.width] : here;
  return differs(right, here) || differs(below, here);
}

const differs = (other: number, here: number): boolean =>
  other !== here && other !== OUTSIDE && other !== 0 && here !== 0;

const RIM_COLOURS = LOOK_OF_CODE.map((look) => (look?.colour ?? [0, 0, 0]).map((level) => level * RIM_SHADE)) as [
  number,
  number,
  number,
][];

/** The rim takes the darker shade of the class that is not bare. */
function rimColour(codes: Uint8Array, size: PaintSize, index: number): readonly [number, number, number] {
  for (const at of [index, index + 1, index + size.width]) {
    const code = codes[at];
    if (code >= CLASS_CODE.stain && code <= CLASS_CODE.coating) return RIM_COLOURS[code];
  }
  return RIM_COLOURS[CLASS_CODE.rust];
}

function ink(pixels: Uint8Array, index: number, colour: readonly [number, number, number], alpha: number): void {
  pixels[4 * index] = colour[0];
  pixels[4 * index + 1] = colour[1];
  pixels[4 * index + 2] = colour[2];
  pixels[4 * index + 3] = alpha;
}
