import { describe, expect, it } from 'vitest';
import { texturesApart } from '../../../../server/measure/residue/textures-apart.ts';
import type { UsualSquare } from '../../../../server/measure/residue/usual-square.ts';

/** Textures (not squares), one in the two finer bands and one in the coarsest, each known to a part of its square. */
const textures = (fine: number, coarse: number, parts = [0.05, 0.05, 0.05]): UsualSquare[] =>
  [fine, fine, coarse].map((texture, k) => ({ square: texture ** 2, sigma: parts[k] * texture ** 2 }));

describe('how far two even textures are apart', () => {
  it('is the hyperbolic tangent of the logarithm of their ratio where all bands say the same', () => {
    // (r^2 - 1) / (r^2 + 1) with r = 1.25, by hand: 0.5625 / 2.5625.
    expect(texturesApart(textures(1.25, 2.5), textures(1, 2)).apart).toBeCloseTo(0.2195, 4);
    expect(texturesApart(textures(1.25, 2.5), textures(1, 2)).apart).toBeCloseTo(Math.tanh(Math.log(1.25)), 9);
  });

  it('is nothing between equals, and the other way round when they are swapped', () => {
    const [rough, smooth] = [textures(1.4, 1.2), textures(1, 1.1)];
    expect(texturesApart(rough, rough).apart).toBe(0);
    expect(texturesApart(smooth, rough).apart).toBeCloseTo(-texturesApart(rough, smooth).apart, 12);
    expect(texturesApart(smooth, rough).sigma).toBeCloseTo(texturesApart(rough, smooth).sigma, 12);
  });

  it('is the same whatever one blur leaves of both', () => {
    const sharp = texturesApart(textures(1.4, 1.2), textures(1, 1.1));
    const blurred = texturesApart(textures(0.7, 1.08), textures(0.5, 0.99));
    expect(blurred.apart).toBeCloseTo(sharp.apart, 9);
    expect(blurred.sigma).toBeCloseTo(sharp.sigma, 9);
  });

  it('goes by the finer bands where all are sure, and by the coarser one where noise leaves nothing of them', () => {
    expect(texturesApart(textures(1, 1.3), textures(1.2, 1)).apart).toBeLessThan(0);
    expect(texturesApart(textures(1, 1.3, [3, 3, 0.05]), textures(1.2, 1, [3, 3, 0.05])).apart).toBeGreaterThan(0.2);
  });

  it('has the scatter that errors of the squares give it', () => {
    // One sure band of weight next to none beside it: d tanh(x) with dx = half the relative error of each square.
    const { sigma } = texturesApart(textures(1, 1, [1e6, 0.1, 1e6]), textures(1, 1, [1e6, 0.1, 1e6]));
    expect(sigma).toBeCloseTo((Math.SQRT2 * 0.1) / 2, 3);
  });

  it('cannot be told where nothing is left of either', () => {
    const none: UsualSquare[] = [0, 0, 0].map((square) => ({ square, sigma: 0.01 }));
    const { apart, sigma } = texturesApart(none, none);
    expect(apart).toBe(0);
    expect(sigma).toBeGreaterThan(1);
  });
});
