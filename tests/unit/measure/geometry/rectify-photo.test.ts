import { describe, expect, it } from 'vitest';
import { decodeSrgb, srgbDecodeTable } from '../../../../server/measure/colour/srgb.ts';
import { flatPhotoMap } from '../../../../server/measure/geometry/photo-map.ts';
import type { PhotoMap } from '../../../../server/measure/geometry/photo-map.ts';
import { BLOCKED, rectifyPhoto } from '../../../../server/measure/geometry/rectify-photo.ts';
import type { RectifiedPhoto } from '../../../../server/measure/geometry/rectify-photo.ts';
import type { SurfaceGrid } from '../../../../server/measure/geometry/surface-grid.ts';
import { byteMask } from '../../../../server/measure/raster/plane.ts';
import { encodedRgbRaster } from '../../../../server/measure/raster/rgb-raster.ts';
import type { EncodedRgbRaster } from '../../../../server/measure/raster/rgb-raster.ts';

const decode = srgbDecodeTable(255);

function greyPhoto(width: number, height: number, code: (x: number, y: number) => number): EncodedRgbRaster {
  const pixels = new Uint8Array(3 * width * height);
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i += 3) pixels.fill(code(x, y), i, i + 3);
  }
  return encodedRgbRaster(width, height, pixels);
}

const gridOf = (width: number, height: number, step: number, origin: [number, number] = [0, 0]): SurfaceGrid => ({
  unit: 'px',
  width,
  height,
  step,
  origin,
  angle: 0,
});

function rectify(photo: EncodedRgbRaster, grid: SurfaceGrid, map: PhotoMap = flatPhotoMap(photo)): RectifiedPhoto {
  const mask = byteMask(grid.width, grid.height);
  mask.values.fill(1);
  return rectifyPhoto(photo, grid, { map, mask, tables: [decode, decode, decode] });
}

describe('a photo brought onto the surface grid', () => {
  it('averages light and not codes', () => {
    const photo = greyPhoto(8, 8, (x) => (x % 2 === 0 ? 20 : 240));
    const { light, blocked } = rectify(photo, gridOf(4, 4, 2));
    const mean = (decodeSrgb(20 / 255) + decodeSrgb(240 / 255)) / 2;
    for (const value of light.pixels) expect(value).toBeCloseTo(mean, 6);
    expect([...blocked.values].every((code) => code === 0)).toBe(true);
  });

  it('is the photo, decoded, where grid and photo coincide', () => {
    const photo = greyPhoto(9, 7, (x, y) => 20 + 3 * x + 17 * y);
    const { light } = rectify(photo, gridOf(9, 7, 1));
    for (let y = 0; y < 7; y++) {
      for (let x = 0; x < 9; x++) {
        expect(light.pixels[3 * (y * 9 + x)]).toBeCloseTo(decodeSrgb((20 + 3 * x + 17 * y) / 255), 3);
      }
    }
  });

  it('conserves the light of an even step in scale: the mean stays', () => {
    const photo = greyPhoto(24, 24, (x, y) => 40 + ((x * 37 + y * 91) % 160));
    const mean = (pixels: Float32Array): number => pixels.reduce((sum, v) => sum + v, 0) / pixels.length;
    const whole = mean(rectify(photo, gridOf(24, 24, 1)).light.pixels);
    for (const step of [2, 3, 4]) {
      expect(mean(rectify(photo, gridOf(24 / step, 24 / step, step)).light.pixels)).toBeCloseTo(whole, 3);
    }
  });

  it('says why a pixel cannot be read: out of the photo, clipped, too dark', () => {
    const photo = greyPhoto(12, 4, (x) => (x < 4 ? 255 : x < 8 ? 1 : 120));
    const { blocked, light } = rectify(photo, gridOf(16, 4, 1));
    const row = [...blocked.values.subarray(0, 16)];
    expect(row).toEqual([
      ...Array<number>(4).fill(BLOCKED.clipped),
      ...Array<number>(4).fill(BLOCKED.shadow),
      ...Array<number>(4).fill(0),
      ...Array<number>(4).fill(BLOCKED.outOfPhoto),
    ]);
    expect(light.pixels[3 * 14]).toBe(0);
  });

  it('calls a pixel clipped when a single channel is', () => {
    const photo = greyPhoto(4, 4, () => 100);
    for (let i = 0; i < photo.pixels.length; i += 3) photo.pixels[i] = 255;
    expect(rectify(photo, gridOf(4, 4, 1)).blocked.values[5]).toBe(BLOCKED.clipped);
  });

  it('leaves alone what the mask leaves out', () => {
    const photo = greyPhoto(4, 4, () => 200);
    const grid = gridOf(4, 4, 1);
    const mask = byteMask(4, 4);
    mask.values[5] = 1;
    const { light, blocked } = rectifyPhoto(photo, grid, {
      map: flatPhotoMap(photo),
      mask,
      tables: [decode, decode, decode],
    });
    expect(light.pixels.filter((v) => v > 0)).toHaveLength(3);
    expect(blocked.values.every((code) => code === 0)).toBe(true);
  });

  it('reads 16-bit codes as their 8-bit fellows', () => {
    const small = greyPhoto(6, 6, (x, y) => 30 + 10 * x + 20 * y);
    const deep = encodedRgbRaster(
      6,
      6,
      Uint16Array.from(small.pixels, (code) => code * 257),
    );
    const mask = byteMask(6, 6);
    mask.values.fill(1);
    const table = srgbDecodeTable(65535);
    const { light } = rectifyPhoto(deep, gridOf(6, 6, 1), {
      map: flatPhotoMap(deep),
      mask,
      tables: [table, table, table],
    });
    const expected = rectify(small, gridOf(6, 6, 1)).light.pixels;
    light.pixels.forEach((value, i) => {
      expect(value).toBeCloseTo(expected[i], 6);
    });
  });

  it('follows the lens: a bent photo is read further in than a straight one', () => {
    // A ramp along x: the seen column can be read off the light.
    const photo = greyPhoto(200, 100, (x) => x + 20);
    const straight = flatPhotoMap(photo);
    const bent: PhotoMap = { ...straight, lens: { ...straight.lens, bend: 0.02 } };
    const grid = gridOf(1, 1, 1, [180, 50]);
    const columnOf = ({ light }: RectifiedPhoto): number =>
      Array.from({ length: 200 }, (_, x) => Math.abs(decodeSrgb((x + 20) / 255) - light.pixels[0])).reduce(
        (best, miss, x, all) => (miss < all[best] ? x : best),
        0,
      );
    // Offset 80.5 px of a half diagonal of 111.8: shift 0.02 x 0.518 x 80.5 = 0.83 px inwards.
    expect(columnOf(rectify(photo, grid, straight))).toBe(180);
    expect(columnOf(rectify(photo, grid, bent))).toBe(179);
  });
});
