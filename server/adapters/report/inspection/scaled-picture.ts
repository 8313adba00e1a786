import sharp from 'sharp';
import type { ReportPicture } from '../../../evidence/report/report.ts';
import type { PhotoDecoder } from '../../../services/ports.ts';
import { classRaster, frameRaster } from './frame-raster.ts';
import type { FrameRaster, FrameSource } from './frame-raster.ts';
import { classPixels, photoPixels } from './photo-pixels.ts';
import type { ClassPixels, PhotoPixels } from './photo-pixels.ts';
import { worstSquareFrame, zoneFrame } from './picture-frame.ts';
import type { PictureFrame } from './picture-frame.ts';

/** A picture ready for print: JPEG bytes and what part of the surface they show. */
export interface ScaledPicture {
  readonly jpeg: Buffer;
  readonly frame: PictureFrame;
}

/** Photos and class maps of a record, each decoded once for each size. */
export interface PictureStore {
  photo(path: string, longSidePx: number): Promise<PhotoPixels>;
  /** Null where the bundle has none. */
  classes(path: string): Promise<ClassPixels> | null;
}

export function pictureStore(files: ReadonlyMap<string, Uint8Array>, decoder: PhotoDecoder): PictureStore {
  const photos = new Map<string, Promise<PhotoPixels>>();
  const maps = new Map<string, Promise<ClassPixels>>();
  return {
    photo(path, longSidePx) {
      const file = files.get(path);
      if (file === undefined) throw new Error(`Expected the bytes of ${path}`);
      return once(photos, `${path} ${longSidePx}`, () => photoPixels(file, longSidePx, decoder));
    },
    classes(path) {
      const file = files.get(path);
      return file === undefined ? null : once(maps, path, () => classPixels(file));
    },
  };
}

function once<T>(made: Map<string, Promise<T>>, name: string, make: () => Promise<T>): Promise<T> {
  const known = made.get(name);
  if (known !== undefined) return known;
  const fresh = make();
  made.set(name, fresh);
  return fresh;
}

export interface PictureWish {
  readonly show: 'photo' | 'classes';
  readonly of: 'zone' | 'worst square';
  /** Room on the paper, mm; the picture is made for the largest scale that fits. */
  readonly room: { readonly widthMm: number; readonly heightMm: number };
  readonly dotsPerMm: number;
  readonly quality: number;
  readonly photoLongSidePx: number;
}

/** Size of the class patterns on paper, mm. */
const PATTERN_MM = 1.1;

/** Makes a picture; null where the classes or the square are asked for and the record has none. */
export async function scaledPicture(
  picture: ReportPicture,
  wish: PictureWish,
  store: PictureStore,
): Promise<ScaledPicture | null> {
  const { photo: entry } = picture;
  const classes = wish.show === 'photo' || entry.classMap === null ? null : store.classes(entry.classMap.path);
  if (wish.show === 'classes' && classes === null) return null;
  if (wish.of === 'worst square' && (picture.worstSquare === null || entry.surface === null)) return null;
  const photo = await store.photo(entry.file.path, wish.photoLongSidePx);
  const frame = frameOf(picture, wish, photo);
  const perUnit = wish.dotsPerMm * Math.min(wish.room.widthMm / frame.width, wish.room.heightMm / frame.height);
  const source: FrameSource = { photo, frame };
  const raster =
    classes === null
      ? frameRaster(source, perUnit)
      : classRaster(source, await classes, { perUnit, patternPx: Math.round(PATTERN_MM * wish.dotsPerMm) });
  return { jpeg: await encode(raster, wish), frame };
}

function frameOf({ photo, worstSquare }: ReportPicture, { of }: PictureWish, pixels: PhotoPixels): PictureFrame {
  if (of === 'worst square' && worstSquare !== null && photo.surface !== null) {
    return worstSquareFrame(photo.surface, worstSquare);
  }
  return zoneFrame(photo, { width: pixels.photoWidthPx, height: pixels.photoHeightPx });
}

const encode = ({ width, height, pixels }: FrameRaster, { quality, show }: PictureWish): Promise<Buffer> =>
  sharp(pixels, { raw: { width, height, channels: 3 } })
    .jpeg({ quality, chromaSubsampling: show === 'classes' ? '4:4:4' : '4:2:0' })
    .toBuffer();
