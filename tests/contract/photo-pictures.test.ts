import { mkdir, mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { sharpPhotoDecoder } from '../../server/adapters/image/sharp-photo-decoder.ts';
import { pictureShelf } from '../../server/adapters/objects/picture-shelf.ts';
import type { PhotoPictures } from '../../server/services/object-ports.ts';
import type { PhotoDecoder } from '../../server/services/ports.ts';

const SHA256 = 'ab'.repeat(32);

interface Opened {
  readonly pictures: PhotoPictures;
  readonly folder: string;
  readonly decodings: () => number;
}

const openShelf = async (): Promise<Opened> => {
  const folder = await mkdtemp(join(tmpdir(), 'bareplate-pictures-'));
  const left = { create: { width: 550, height: 700, channels: 3, background: '#c00000' } } as const;
  const photo = await sharp({ create: { width: 1100, height: 700, channels: 3, background: '#0000c0' } })
    .composite([{ input: left, left: 0, top: 0 }])
    .png()
    .toBuffer();
  let decodings = 0;
  const decoder = sharpPhotoDecoder();
  const counting: PhotoDecoder = {
    decode: (file) => {
      decodings++;
      return decoder.decode(file);
    },
  };
  const pictures = await pictureShelf({ folder, decoder: counting, objects: { read: () => Promise.resolve(photo) } });
  return { pictures, folder, decodings: () => decodings };
};

describe('pictures of photos on a shelf', () => {
  let opened: Opened;
  beforeEach(async () => {
    opened = await openShelf();
  });
  afterEach(() => rm(opened.folder, { recursive: true, force: true }));

  const colourAt = async (jpeg: Uint8Array, left: number, top: number): Promise<string> => {
    const pixel = await sharp(jpeg).extract({ left, top, width: 1, height: 1 }).raw().toBuffer();
    return pixel[0] > pixel[2] ? 'red' : 'blue';
  };

  it('are made once for all who ask at the same time, and kept', async () => {
    const { pictures, decodings } = opened;
    const made = await Promise.all(Array.from({ length: 6 }, () => pictures.picture(SHA256, 'thumbnail')));
    await pictures.picture(SHA256, 'display');
    expect(decodings()).toBe(1);
    for (const jpeg of made) expect(Buffer.from(jpeg)).toEqual(Buffer.from(made[0]));
  });

  it('show the photo the right way round, and each tile its own part', async () => {
    const { pictures } = opened;
    const thumbnail = await pictures.picture(SHA256, 'thumbnail');
    expect([await colourAt(thumbnail, 20, 100), await colourAt(thumbnail, 340, 100)]).toEqual(['red', 'blue']);
    const tile = async (column: number, row: number): Promise<Uint8Array> =>
      (await pictures.tile(SHA256, { level: 2, column, row })) ?? new Uint8Array();
    // The border between the colours lies at pixel 550: in the second column of tiles, 38 pixels from its left.
    expect(await colourAt(await tile(0, 0), 500, 5)).toBe('red');
    expect(await colourAt(await tile(1, 1), 20, 5)).toBe('red');
    expect(await colourAt(await tile(1, 1), 60, 5)).toBe('blue');
    expect(await pictures.tile(SHA256, { level: 3, column: 0, row: 0 })).toBeNull();
  });

  it('go with their photo, and so does what a dead process left aside', async () => {
    const { pictures, folder } = opened;
    await pictures.picture(SHA256, 'thumbnail');
    await mkdir(join(folder, 'ab', SHA256, 'x.aside'));
    await writeFile(join(folder, 'ab', SHA256, 'x.aside', 'half'), '');
    await pictures.sweep(new Set([SHA256]));
    expect((await readdir(join(folder, 'ab', SHA256))).sort()).toEqual(['display.jpg', 'thumbnail.jpg']);
    await pictures.sweep(new Set());
    expect(await readdir(join(folder, 'ab'))).toEqual([]);
  });
});
