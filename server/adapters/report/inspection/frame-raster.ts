import { CLASS_CODE } from '../../../domain/index.ts';
import type { ByteMask } from '../../../measure/raster/plane.ts';
import { byteMask } from '../../../measure/raster/plane.ts';
import { fillPolygon } from '../../../measure/raster/polygon-mask.ts';
import { LOOK_OF_CODE } from '../overlay/class-look.ts';
import type { ClassPixels, PhotoPixels } from './photo-pixels.ts';
import type { PictureFrame } from './picture-frame.ts';

/** An 8-bit RGB picture of a frame, seen square on. */
export interface FrameRaster {
  readonly width: number;
  readonly height: number;
  readonly pixels: Uint8Array;
  /** Pixels for each unit of the frame. */
  readonly perUnit: number;
}

export interface FrameSource {
  readonly photo: PhotoPixels;
  readonly frame: PictureFrame;
}

/** Photo positions are computed on a lattice this wide and interpolated between: off by less than a tenth of a pixel. */
const LATTICE = 16;
/** What lies beside the zone is faded towards white by this part. */
const FADED_PART = 0.7;

/** Lays the photo on the plane of the surface: `perUnit` pixels for each mm. What is beside the zone is faded. */
export function frameRaster({ photo, frame }: FrameSource, perUnit: number): FrameRaster {
  const width = Math.max(1, Math.round(frame.width * perUnit));
  const height = Math.max(1, Math.round(frame.height * perUnit));
  const pixels = new Uint8Array(3 * width * height);
  const zone = zoneMask(frame, width, height, perUnit);
  forEachRow(frame, { width, height, perUnit }, (y, u, v) => {
    const row = pixels.subarray(3 * y * width, 3 * (y + 1) * width);
    sampleRow(photo, u, v, row);
    if (zone === null) return;
    for (let x = 0; x < width; x++) if (zone.values[y * width + x] === 0) fade(row, 3 * x);
  });
  return { width, height, pixels, perUnit };
}

function fade(pixels: Uint8Array, at: number): void {
  for (let k = at; k < at + 3; k++) pixels[k] += FADED_PART * (255 - pixels[k]);
}

/** As {@link frameRaster}, pale and without colour, with the pattern of its class on every pixel that is not bare. */
export function classRaster(
  source: FrameSource,
  classes: ClassPixels,
  look: { perUnit: number; patternPx: number },
): FrameRaster {
  const raster = frameRaster(source, look.perUnit);
  const { width, height, pixels } = raster;
  const codes = new Uint8Array(width * height);
  const zone = zoneMask(source.frame, width, height, look.perUnit);
  const { photoWidthPx } = source.photo;
  const scale = classes.width / photoWidthPx;
  forEachRow(source.frame, raster, (y, u, v) => {
    for (let x = 0, index = y * width; x < width; x++, index++) {
      const column = Math.floor(u[x] * scale);
      const row = Math.floor(v[x] * scale);
      const isInside = column >= 0 && row >= 0 && column < classes.width && row < classes.height;
      const isZone = zone === null || zone.values[index] !== 0;
      codes[index] = isInside && isZone ? classes.codes[row * classes.width + column] : OUTSIDE;
    }
  });
  for (let y = 0, index = 0; y < height; y++) {
    for (let x = 0; x < width; x++, index++) {
      if (codes[index] === OUTSIDE || (codes[index] === 0 && zone === null)) continue;
      paint(pixels, index, inkAt(codes, width, { x, y, patternPx: look.patternPx }));
    }
  }
  return raster;
}

const OUTSIDE = 255;
type Ink = readonly [red: number, green: number, blue: number];

const RIM_OF_CODE = LOOK_OF_CODE.map((look): Ink | null =>
  look === null ? null : [look.colour[0] * 0.6, look.colour[1] * 0.6, look.colour[2] * 0.6],
);

/** The colour of the pattern at a pixel, darker on the rim of an area; null where the ground shows. */
function inkAt(
  codes: Uint8Array,
  width: number,
  pixel: { readonly x: number; readonly y: number; readonly patternPx: number },
): Ink | null {
  const index = pixel.y * width + pixel.x;
  const look = LOOK_OF_CODE[codes[index]];
  if (look === null) return null;
  const { bare } = CLASS_CODE;
  const isRim =
    codes[index - 1] === bare ||
    codes[index + 1] === bare ||
    codes[index - width] === bare ||
    codes[index + width] === bare;
  if (isRim) return RIM_OF_CODE[codes[index]];
  return look.isInked(pixel.x, pixel.y, pixel.patternPx) ? look.colour : null;
}

/** The ground is the photo in grey, lifted so that every ink stands out from it. */
function paint(pixels: Uint8Array, index: number, ink: Ink | null): void {
  const at = 3 * index;
  const grey = 110 + 0.5 * (0.3 * pixels[at] + 0.59 * pixels[at + 1] + 0.11 * pixels[at + 2]);
  pixels[at] = ink === null ? grey : ink[0];
  pixels[at + 1] = ink === null ? grey : ink[1];
  pixels[at + 2] = ink === null ? grey : ink[2];
}

function zoneMask(frame: PictureFrame, width: number, height: number, perUnit: number): ByteMask | null {
  if (frame.zone === null) return null;
  const mask = byteMask(width, height);
  fillPolygon(
    mask,
    frame.zone.map(([x, y]): [number, number] => [x * perUnit, y * perUnit]),
    1,
  );
  return mask;
}

/**
 * Calls with every row of pixels and where their centres lie in the upright photo. Rows, not pixels: a report has millions
 * of pixels, and a call for each of them costs more than the work.
 */
function forEachRow(
  frame: PictureFrame,
  { width, height, perUnit }: Pick<FrameRaster, 'width' | 'height' | 'perUnit'>,
  visit: (y: number, u: Float64Array, v: Float64Array) => void,
): void {
  const columns = Math.ceil(width / LATTICE) + 1;
  const above = new Float64Array(2 * columns);
  const below = new Float64Array(2 * columns);
  const u = new Float64Array(width);
  const v = new Float64Array(width);
  fillKnots(frame, perUnit, 0, below);
  for (let top = 0; top < height; top += LATTICE) {
    above.set(below);
    fillKnots(frame, perUnit, top + LATTICE, below);
    for (let y = top; y < Math.min(top + LATTICE, height); y++) {
      const t = (y - top) / LATTICE;
      for (let k = 0, x = 0; x < width; k += 2) {
        const startU = above[k] + t * (below[k] - above[k]);
        const startV = above[k + 1] + t * (below[k + 1] - above[k + 1]);
        const stepU = (above[k + 2] + t * (below[k + 2] - above[k + 2]) - startU) / LATTICE;
        const stepV = (above[k + 3] + t * (below[k + 3] - above[k + 3]) - startV) / LATTICE;
        for (let step = 0; step < LATTICE && x < width; step++, x++) {
          u[x] = startU + step * stepU;
          v[x] = startV + step * stepV;
        }
      }
      visit(y, u, v);
    }
  }
}

/** Photo positions of the pixel centres that stand a lattice step apart in one row. */
function fillKnots(frame: PictureFrame, perUnit: number, row: number, out: Float64Array): void {
  for (let k = 0; k < out.length; k += 2) {
    const [u, v] = frame.toPhoto(((k / 2) * LATTICE + 0.5) / perUnit, (row + 0.5) / perUnit);
    out[k] = u;
    out[k + 1] = v;
  }
}

/** Bilinear; white outside the photo. Blending codes, not light: for looking at only. */
function sampleRow(
  { pixels: p, width, height, scale }: PhotoPixels,
  u: Float64Array,
  v: Float64Array,
  out: Uint8Array,
): void {
  for (let column = 0; column < u.length; column++) {
    const at = 3 * column;
    const x = u[column] * scale - 0.5;
    const y = v[column] * scale - 0.5;
    if (!(x >= -0.5 && y >= -0.5 && x <= width - 0.5 && y <= height - 0.5)) {
      out[at] = out[at + 1] = out[at + 2] = 255;
      continue;
    }
    const left = Math.min(Math.max(Math.floor(x), 0), width - 2);
    const top = Math.min(Math.max(Math.floor(y), 0), height - 2);
    const s = Math.min(Math.max(x - left, 0), 1);
    const t = Math.min(Math.max(y - top, 0), 1);
    const first = 3 * (top * width + left);
    const second = first + 3 * width;
    for (let k = 0; k < 3; k++) {
      const upper = (1 - s) * p[first + k] + s * p[first + 3 + k];
      const lower = (1 - s) * p[second + k] + s * p[second + 3 + k];
      out[at + k] = (1 - t) * upper + t * lower + 0.5;
    }
  }
}
