import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { converter, differenceCiede2000 } from 'culori';
import sharp from 'sharp';
import { describe, expect, it, vi } from 'vitest';
import {
  CORNER_MARK_PX,
  CORNER_MARK_RGB,
  fixture,
  meanOfPatch,
  PICTURE_HEIGHT_PX,
  PICTURE_PATCHES,
  PICTURE_WIDTH_PX,
  type FixtureName,
  type PhotoFixtureName,
  type Rgb8,
} from '../../../../fixtures/index.ts';
import { sharpPhotoDecoder } from '../../../../server/adapters/image/sharp-photo-decoder.ts';
import { faultSentence } from '../../../../server/domain/index.ts';
import type { EncodedRgbRaster } from '../../../../server/measure/raster/rgb-raster.ts';

const decoder = sharpPhotoDecoder();
const toSrgb = converter('rgb');

async function rasterOfBytes(file: Uint8Array): Promise<EncodedRgbRaster> {
  const outcome = await decoder.decode(file);
  if (!outcome.ok) throw new Error(faultSentence(outcome.fault));
  return outcome.value.raster;
}
const rasterOf = (name: PhotoFixtureName): Promise<EncodedRgbRaster> => rasterOfBytes(fixture(name).read());

/** sRGB codes 0..255, not rounded, of a colour of another space, by culori. */
function srgbOf(mode: 'p3' | 'a98', [r, g, b]: Rgb8): Rgb8 {
  const srgb = toSrgb({ mode, r: r / 255, g: g / 255, b: b / 255 });
  const code = (value: number): number => 255 * Math.min(1, Math.max(0, value));
  return [code(srgb.r), code(srgb.g), code(srgb.b)];
}

function patchErrors(raster: EncodedRgbRaster, expected: (rgb: Rgb8) => Rgb8): number[] {
  return PICTURE_PATCHES.flatMap((patch) => {
    const aim = expected(patch.rgb);
    return meanOfPatch(raster, patch).map((code, channel) => Math.abs((code * 255) / raster.maxCode - aim[channel]));
  });
}

/** Mean colour of the middle of a square of the size of the mark. */
const cornerColour = (raster: EncodedRgbRaster, left: number, top: number): Rgb8 =>
  meanOfPatch(raster, { left, top, sidePx: CORNER_MARK_PX, rgb: CORNER_MARK_RGB });

const expectMark = (colour: Rgb8): void => {
  colour.forEach((code, channel) => {
    expect(Math.abs(code - CORNER_MARK_RGB[channel])).toBeLessThanOrEqual(6);
  });
};

const largestDifference = (one: ArrayLike<number>, other: ArrayLike<number>): number =>
  Array.from(one).reduce((most, code, index) => Math.max(most, Math.abs(code - other[index])), 0);

/** As bytes: comparing typed arrays number by number takes a second per photo. */
const expectSamePixels = ({ pixels }: EncodedRgbRaster, expected: Uint8Array | Uint16Array): void => {
  const bytes = (samples: Uint8Array | Uint16Array): Buffer =>
    Buffer.from(samples.buffer, samples.byteOffset, samples.byteLength);
  expect(bytes(pixels).equals(bytes(expected))).toBe(true);
};

describe('colour profiles', () => {
  // Lossless: rounding, and 0.3 codes that Little CMS adds with 8 bits. Lossy: the encoder's error of 1 code, steepened by up to 1.9 where P3 blue is small.
  it.each([
    ['card-p3.png', 0.8],
    ['card-p3.webp', 0.8],
    ['card-p3.tif', 0.8],
    ['card-p3-16bit.png', 0.05],
    ['card-p3.jpg', 2.5],
    ['card-p3.avif', 2.5],
    ['card-p3.heic', 2.5],
    ['card-p3-code-points.avif', 2.5],
    ['card-p3-code-points.heic', 2.5],
  ] as [PhotoFixtureName, number][])(
    'brings the Display P3 colours of %s to the sRGB codes culori computes, within %d',
    async (name, tolerance) => {
      const raster = await rasterOf(name);
      expect(Math.max(...patchErrors(raster, (rgb) => srgbOf('p3', rgb)))).toBeLessThanOrEqual(tolerance);
      // The check has teeth: left as stored, some patch would be off by more than 20 codes.
      expect(Math.max(...patchErrors(raster, (rgb) => rgb))).toBeGreaterThan(20);
    },
  );

  it('brings Adobe RGB to the sRGB codes culori computes', async () => {
    const errors = patchErrors(await rasterOf('card-adobe-rgb.png'), (rgb) => srgbOf('a98', rgb));
    expect(Math.max(...errors)).toBeLessThanOrEqual(0.8);
  });

  it('agrees with its own matrix for 16 bits, where Little CMS converts 8 bits, to one code of 255', async () => {
    const deep = (await rasterOf('card-p3-16bit.png')).pixels;
    const plain = (await rasterOf('card-p3.png')).pixels;
    expect(
      largestDifference(
        Float64Array.from(deep, (code) => code / 257),
        plain,
      ),
    ).toBeLessThanOrEqual(1);
  });

  it('does not rely on sharp for 16 bits, which stops at Display P3 there', async () => {
    const file = fixture('card-p3-16bit.png').read();
    const bytes = await sharp(file).toColourspace('rgb16').raw({ depth: 'ushort' }).toBuffer();
    const bySharp = new Uint16Array(bytes.buffer, bytes.byteOffset, bytes.length / 2);
    const stored = (await rasterOf('card-16bit.png')).pixels;
    // Measured: 435 codes of 65535, less than 2 of 255, against more than 20 of 255 that a conversion to sRGB moves.
    expect(largestDifference(bySharp, stored)).toBeLessThanOrEqual(2 * 257);
    expect(largestDifference((await rasterOfBytes(file)).pixels, stored)).toBeGreaterThan(20 * 257);
  });

  it.each(['card-p3-table.png', 'card-p3-table-16bit.png'] as const)(
    'applies the lookup table of %s within 1 CIEDE2000 of the exact colours',
    async (name) => {
      // Measured: Little CMS through sharp is off by up to 4 codes in channels near black.
      const raster = await rasterOf(name);
      const difference = differenceCiede2000();
      for (const patch of PICTURE_PATCHES) {
        const [r, g, b] = meanOfPatch(raster, patch).map((code) => code / raster.maxCode);
        const exact = srgbOf('p3', patch.rgb).map((code) => code / 255);
        const aim = { mode: 'rgb', r: exact[0], g: exact[1], b: exact[2] } as const;
        expect(difference({ mode: 'rgb', r, g, b }, aim)).toBeLessThan(1);
      }
    },
  );

  it('leaves the codes of a photo tagged sRGB untouched', async () => {
    expectSamePixels(await rasterOf('card-srgb-tagged.jpg'), (await rasterOf('card.jpg')).pixels);
  });

  it('takes a PNG with a contradicting gamma chunk for sRGB', async () => {
    expectSamePixels(await rasterOf('card-gamma.png'), (await rasterOf('card.png')).pixels);
  });
});

describe('orientation', () => {
  it.each([1, 2, 3, 4, 5, 6, 7, 8] as const)('turns EXIF orientation %d upright, as libvips does', async (value) => {
    const name = `orientation-${value}.jpg` as const;
    const raster = await rasterOf(name);
    expect([raster.width, raster.height]).toEqual([PICTURE_WIDTH_PX, PICTURE_HEIGHT_PX]);
    expectMark(cornerColour(raster, 0, 0));
    // Measured: the quarter of the chroma that the JPEG keeps costs up to 3 codes in the middle of a patch.
    expect(Math.max(...patchErrors(raster, (rgb) => rgb))).toBeLessThanOrEqual(4);
    const reference = await sharp(fixture(name).read()).autoOrient().raw().toBuffer();
    expect(largestDifference(raster.pixels, reference)).toBe(0);
  });

  it.each(['orientation-6.png', 'orientation-6.webp', 'orientation-6.tif'] as const)(
    'finds the orientation of %s where its format keeps it',
    async (name) => {
      expectSamePixels(await rasterOf(name), (await rasterOf('card.png')).pixels);
    },
  );

  it('applies the rotation of a HEIC once, though its EXIF states it again', async () => {
    const raster = await rasterOf('card-grid-turned-p3.heic');
    expect([raster.width, raster.height]).toEqual([PICTURE_HEIGHT_PX, PICTURE_WIDTH_PX]);
    // A quarter turn anticlockwise takes the top left corner to the bottom left.
    const [red, green, blue] = cornerColour(raster, 0, raster.height - CORNER_MARK_PX);
    const expected = srgbOf('p3', CORNER_MARK_RGB);
    expect(Math.abs(red - expected[0])).toBeLessThanOrEqual(3);
    expect(green).toBeLessThanOrEqual(3);
    expect(Math.abs(blue - expected[2])).toBeLessThanOrEqual(6);
  });
});

describe('what belongs to the picture', () => {
  it('is the same with or without an appended second picture', async () => {
    expectSamePixels(await rasterOf('card-appendix.jpg'), (await rasterOf('card.jpg')).pixels);
  });

  it('is the main picture of a HEIC, not the first', async () => {
    expectSamePixels(await rasterOf('card-second-is-main.heic'), (await rasterOf('card.heic')).pixels);
  });

  it('is the same in every lossless format, and 257 times as deep in 16 bits', async () => {
    const { pixels } = await rasterOf('card.png');
    for (const name of ['card.tif', 'card-lossless.webp', 'card-opaque-alpha.png'] as const) {
      expectSamePixels(await rasterOf(name), pixels);
    }
    const deep = Uint16Array.from(pixels, (code) => code * 257);
    for (const name of ['card-16bit.png', 'card-16bit.tif'] as const) {
      expectSamePixels(await rasterOf(name), deep);
    }
  });

  it('spreads 10 bits over the whole scale, so that white is white', async () => {
    const white = await sharp({ create: { width: 64, height: 64, channels: 3, background: 'white' } })
      .toColourspace('rgb16')
      .avif({ bitdepth: 10, quality: 90 })
      .toBuffer();
    const raster = await rasterOfBytes(white);
    expect(raster.maxCode).toBe(65535);
    expect(Math.max(...raster.pixels)).toBe(65535);
  });

  it('does not change when a lossless photo is stored again as it was decoded', async () => {
    const { width, height, pixels } = await rasterOf('card-p3.png');
    const stored = await sharp(Buffer.from(pixels), { raw: { width, height, channels: 3 } })
      .png()
      .toBuffer();
    expectSamePixels(await rasterOfBytes(stored), pixels);
  });
});

const REAL_PHOTOS = new URL('../../../../../shared/data/coupons/', import.meta.url).pathname;

describe('real photos', () => {
  it.skipIf(!existsSync(REAL_PHOTOS))(
    'of ../shared/data/coupons decode as bare sharp decodes them (skipped where that folder is absent)',
    async () => {
      for (const name of readdirSync(REAL_PHOTOS)) {
        const file = readFileSync(join(REAL_PHOTOS, name));
        const reference = await sharp(file).autoOrient().raw().toBuffer();
        expect(Buffer.from((await rasterOfBytes(file)).pixels).equals(reference)).toBe(true);
      }
    },
  );
});

describe('a HEIC that cannot be decoded', () => {
  it('leaves no word of the decoder on standard output, which belongs to the answer', async () => {
    const written = vi.spyOn(process.stdout, 'write');
    const outcome = await decoder.decode(fixture('small-claim.heic').read());
    const words = written.mock.calls.map(([chunk]) => String(chunk)).join('');
    written.mockRestore();
    expect(outcome.ok).toBe(false);
    expect(words).toBe('');
  });
});

describe('memory', () => {
  const MOST_GROWTH_BYTES = 150 * 1024 * 1024;
  const BOMBS: readonly FixtureName[] = [
    'huge-claim.png',
    'huge-packed.png',
    'huge-claim.jpg',
    'huge-claim.webp',
    'huge-claim.tif',
    'huge.avif',
    'huge.heic',
    'small-claim.heic',
    'small-claim.avif',
    'packed-profile.png',
    'icc-many-tags.jpg',
    'icc-endless-primary.jpg',
  ];

  it.each(BOMBS)('refuses %s within 150 MiB', async (name) => {
    const file = fixture(name).read();
    await decoder.decode(fixture('card.heic').read());
    const before = process.memoryUsage().rss;
    let peak = before;
    const sampler = setInterval(() => {
      peak = Math.max(peak, process.memoryUsage().rss);
    }, 2);
    const outcome = await decoder.decode(file);
    clearInterval(sampler);
    expect(outcome.ok).toBe(false);
    expect(Math.max(peak, process.memoryUsage().rss) - before).toBeLessThan(MOST_GROWTH_BYTES);
  });
});
