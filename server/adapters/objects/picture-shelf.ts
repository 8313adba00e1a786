import { mkdir, readdir, readFile, rename, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { randomUUID } from 'node:crypto';
import sharp from 'sharp';
import type { Sharp } from 'sharp';
import type { EncodedRgbRaster } from '../../measure/raster/rgb-raster.ts';
import type { PhotoDecoder } from '../../services/ports.ts';
import { PICTURE_SIZES } from '../../services/object-ports.ts';
import type { ObjectStore, PhotoPictures, PictureSize } from '../../services/object-ports.ts';
import { TILE_SIZE_PX, tileLevels } from '../../services/tile-levels.ts';

const JPEG = { quality: 85, mozjpeg: false } as const;

export interface PictureShelfParts {
  readonly folder: string;
  readonly objects: Pick<ObjectStore, 'read'>;
  readonly decoder: PhotoDecoder;
}

/**
 * Pictures of photos for the screen, kept in a folder that can be thrown away at any time. A picture appears under its
 * name only when it is whole (written aside, then renamed). Two who ask at once share the work.
 */
export async function pictureShelf(parts: PictureShelfParts): Promise<PhotoPictures> {
  await mkdir(parts.folder, { recursive: true });
  const making = new Map<string, Promise<void>>();
  const once = async (key: string, make: () => Promise<void>): Promise<void> => {
    const begun = making.get(key) ?? make().finally(() => making.delete(key));
    making.set(key, begun);
    await begun;
  };
  const placeOf = (sha256: string): string => join(parts.folder, sha256.slice(0, 2), sha256);
  const raster = async (sha256: string): Promise<EncodedRgbRaster> => {
    const decoding = await parts.decoder.decode(await parts.objects.read(sha256));
    if (!decoding.ok) throw new Error(`Expected a stored photo to be readable but ${decoding.fault.code}: ${sha256}`);
    return decoding.value.raster;
  };
  return {
    async picture(sha256, size) {
      const path = join(placeOf(sha256), `${size}.jpg`);
      if (!(await exists(path))) {
        await once(`${sha256}/sizes`, async () => writeSizes(placeOf(sha256), await raster(sha256)));
      }
      return readFile(path);
    },
    async tile(sha256, { level, column, row }) {
      const folder = join(placeOf(sha256), 'tiles');
      if (!(await exists(folder))) await once(`${sha256}/tiles`, async () => writeTiles(folder, await raster(sha256)));
      return readOrNull(join(folder, String(level), `${column}_${row}.jpg`));
    },
    prepare: (sha256, pixels) => once(`${sha256}/sizes`, () => writeSizes(placeOf(sha256), pixels)),
    sweep: (photos) => sweep(parts.folder, photos),
  };
}

async function writeSizes(folder: string, pixels: EncodedRgbRaster): Promise<void> {
  for (const size of Object.keys(PICTURE_SIZES) as PictureSize[]) {
    const side = PICTURE_SIZES[size];
    const jpeg = await picture(pixels)
      .resize({ width: side, height: side, fit: 'inside', withoutEnlargement: true })
      .jpeg(JPEG)
      .toBuffer();
    await place(folder, `${size}.jpg`, async (aside) => {
      await sharp(jpeg).toFile(aside);
    });
  }
}

async function writeTiles(folder: string, pixels: EncodedRgbRaster): Promise<void> {
  const levels = tileLevels(pixels.width, pixels.height);
  await place(join(folder, '..'), 'tiles', async (aside) => {
    for (const [level, size] of levels.entries()) {
      const levelFolder = join(aside, String(level));
      await mkdir(levelFolder, { recursive: true });
      const { data } = await picture(pixels)
        .resize({ width: size.widthPx, height: size.heightPx, fit: 'fill' })
        .raw()
        .toBuffer({ resolveWithObject: true });
      await cutLevel(data, size, levelFolder);
    }
  });
}

async function cutLevel(
  data: Uint8Array,
  { widthPx, heightPx }: { widthPx: number; heightPx: number },
  folder: string,
): Promise<void> {
  for (let top = 0; top < heightPx; top += TILE_SIZE_PX) {
    for (let left = 0; left < widthPx; left += TILE_SIZE_PX) {
      const width = Math.min(TILE_SIZE_PX, widthPx - left);
      const height = Math.min(TILE_SIZE_PX, heightPx - top);
      await sharp(data, { raw: { width: widthPx, height: heightPx, channels: 3 } })
        .extract({ left, top, width, height })
        .jpeg(JPEG)
        .toFile(join(folder, `${left / TILE_SIZE_PX}_${top / TILE_SIZE_PX}.jpg`));
    }
  }
}

const picture = ({ width, height, pixels }: EncodedRgbRaster): Sharp =>
  sharp(pixels instanceof Uint8Array ? pixels : eightBit(pixels), { raw: { width, height, channels: 3 } });

const eightBit = (pixels: Uint16Array): Uint8Array => Uint8Array.from(pixels, (code) => code >> 8);

/** Makes a file or folder aside and gives it its name when it is whole. */
async function place(folder: string, name: string, make: (aside: string) => Promise<void>): Promise<void> {
  await mkdir(folder, { recursive: true });
  const aside = join(folder, `${randomUUID()}.aside`);
  try {
    await make(aside);
    await rename(aside, join(folder, name));
  } finally {
    await rm(aside, { recursive: true, force: true });
  }
}

const exists = async (path: string): Promise<boolean> => {
  try {
    await stat(path);
    return true;
  } catch {
    return false;
  }
};

async function readOrNull(path: string): Promise<Uint8Array | null> {
  return (await exists(path)) ? readFile(path) : null;
}

/** Removes the pictures of photos that are gone, and what a dead process left aside. */
async function sweep(folder: string, photos: ReadonlySet<string>): Promise<void> {
  for (const shelf of await readdir(folder)) {
    for (const sha256 of await readdir(join(folder, shelf))) {
      const place = join(folder, shelf, sha256);
      if (!photos.has(sha256)) await rm(place, { recursive: true, force: true });
      else {
        for (const name of await readdir(place)) {
          if (name.endsWith('.aside')) await rm(join(place, name), { recursive: true, force: true });
        }
      }
    }
  }
}
