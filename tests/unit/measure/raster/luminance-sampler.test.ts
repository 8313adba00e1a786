import { describe, expect, it } from 'vitest';
import { decodeSrgb } from '../../../../server/measure/colour/srgb.ts';
import { luminanceSampler } from '../../../../server/measure/raster/luminance-sampler.ts';
import { reducedLuma } from '../../../../server/measure/raster/reduced-luma.ts';
import { encodedRgbRaster, linearRgbRaster } from '../../../../server/measure/raster/rgb-raster.ts';
import type { EncodedRgbRaster } from '../../../../server/measure/raster/rgb-raster.ts';

const picture = (width: number, height: number, rgb: (x: number, y: number) => readonly number[]): EncodedRgbRaster =>
  encodedRgbRaster(
    width,
    height,
    Uint8Array.from({ length: 3 * width * height }, (_, i) => {
      const pixel = Math.floor(i / 3);
      return rgb(pixel % width, Math.floor(pixel / width))[i % 3];
    }),
  );

describe('luminance between pixels', () => {
  const ramp = picture(6, 4, (x, y) => [40 + 20 * x, 40 + 20 * x, 40 + 20 * x + 0 * y]);

  it('is the pixel’s own at its centre, and the mean of light half way to the next', () => {
    const at = luminanceSampler(ramp);
    expect(at(2.5, 1.5)).toBeCloseTo(decodeSrgb(80 / 255), 6);
    expect(at(3, 1.5)).toBeCloseTo((decodeSrgb(80 / 255) + decodeSrgb(100 / 255)) / 2, 6);
  });

  it('weighs red, green and blue as sRGB does: 0.2126, 0.7152, 0.0722 (IEC 61966-2-1)', () => {
    for (const [channel, weight] of [
      [0, 0.2126],
      [1, 0.7152],
      [2, 0.0722],
    ]) {
      const pure = picture(3, 3, () => [0, 1, 2].map((k) => (k === channel ? 255 : 0)));
      expect(luminanceSampler(pure)(1.5, 1.5)).toBeCloseTo(weight, 6);
    }
  });

  it('is not a number out of the photo', () => {
    const at = luminanceSampler(ramp);
    for (const [x, y] of [
      [-1, 1],
      [6.2, 1],
      [2, -0.1],
      [2, 4],
      [NaN, 1],
    ]) {
      expect(at(x, y)).toBeNaN();
    }
  });
});

describe('the grey picture for searching', () => {
  it('holds means of its blocks and drops what is left over', () => {
    const checks = picture(7, 5, (x, y) => ((x + y) % 2 === 0 ? [200, 200, 200] : [100, 100, 100]));
    const grey = reducedLuma(checks, 2);
    expect([grey.width, grey.height]).toEqual([3, 2]);
    expect([...grey.values]).toEqual([150, 150, 150, 150, 150, 150]);
  });

  it('is the photo itself at factor 1, with green counted twice', () => {
    const grey = reducedLuma(
      picture(2, 1, (x) => (x === 0 ? [255, 0, 0] : [0, 255, 0])),
      1,
    );
    expect([...grey.values]).toEqual([64, 128]);
  });

  it('is the same from 8 and from 16 bits', () => {
    const small = picture(4, 4, (x, y) => [20 * x, 60 * y, 30 * (x + y)]);
    const deep = encodedRgbRaster(
      4,
      4,
      Uint16Array.from(small.pixels, (code) => 257 * code),
    );
    expect(reducedLuma(deep, 2)).toEqual(reducedLuma(small, 2));
  });
});

describe('a raster', () => {
  it('refuses a number of samples that does not fit its size', () => {
    expect(() => encodedRgbRaster(2, 2, new Uint8Array(11))).toThrow(RangeError);
    expect(() => linearRgbRaster(2, 2, new Float32Array(13))).toThrow(RangeError);
  });
});
