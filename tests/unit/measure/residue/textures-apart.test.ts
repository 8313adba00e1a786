import { describe, expect, it } from 'vitest';
import type { EvenTexture } from '../../../../server/measure/residue/even-texture.ts';
import { texturesApart } from '../../../../server/measure/residue/textures-apart.ts';

const CLEAR: EvenTexture = {
  bands: [0.2, 0.4, 0.5].map((square) => ({ square, noise: 0.01 * square })),
  unevenness: 0.9,
  cells: 600,
  plainPart: 0.8,
  stainPart: 0.02,
  lightness: 62,
  blurMm: 0.1,
};
/** All of its contrasts so many times as large. */
const rougher = (times: number, of: EvenTexture = CLEAR): EvenTexture => ({
  ...of,
  bands: of.bands.map(({ square, noise }) => ({ square: times ** 2 * (square - noise) + noise, noise })),
});
const isTold = (first: EvenTexture, second: EvenTexture): boolean => {
  const { apart, chance } = texturesApart(first, second);
  return Math.abs(apart) > chance;
};

describe('how far two even textures are apart', () => {
  it('is nothing between equals, and the other way round when they are swapped', () => {
    expect(texturesApart(CLEAR, CLEAR).apart).toBe(0);
    const [there, back] = [texturesApart(rougher(1.4), CLEAR), texturesApart(CLEAR, rougher(1.4))];
    expect(back.apart).toBeCloseTo(-there.apart, 12);
    expect(back.chance).toBeCloseTo(there.chance, 12);
  });

  it('grows with the logarithm of the ratio where all bands say the same, held back by what cannot be told', () => {
    const told = [1.25, 1.4, 1.6].map((times) => texturesApart(rougher(times), CLEAR).apart / Math.log(times));
    for (const part of told) {
      expect(part).toBeGreaterThan(0.4);
      expect(part).toBeLessThan(1.5);
    }
  });

  it('tells a quarter more contrast, and not a hundredth', () => {
    for (const lightness of [45, 55, 65, 75]) {
      const patch = { ...CLEAR, lightness };
      expect(isTold(rougher(1.25, patch), patch)).toBe(true);
      expect(isTold(rougher(1.01, patch), patch)).toBe(false);
    }
  });

  it('hears the bands that blur leaves where it leaves little', () => {
    const soft = { ...CLEAR, blurMm: 0.3, bands: [0.002, 0.03, 0.3].map((square) => ({ square, noise: 0.001 })) };
    expect(isTold(rougher(1.35, soft), soft)).toBe(true);
  });

  it('is told by chance more easily where few cells are seen', () => {
    const few = { ...CLEAR, cells: 20 };
    expect(texturesApart(few, few).chance).toBeGreaterThan(2 * texturesApart(CLEAR, CLEAR).chance);
  });

  it('cannot be told where noise explains all of both', () => {
    const none = { ...CLEAR, bands: [0.2, 0.4, 0.5].map((square) => ({ square, noise: square })) };
    const other = { ...none, bands: none.bands.map(({ square, noise }) => ({ square: 1.01 * square, noise })) };
    expect(isTold(other, none)).toBe(false);
  });

  it('is a number where nothing at all is seen', () => {
    const nothing = { ...CLEAR, bands: [0, 0, 0].map((square) => ({ square, noise: 0 })), blurMm: 0 };
    expect(texturesApart(nothing, CLEAR).apart).toBeLessThan(0);
    expect(texturesApart(nothing, nothing).apart).toBe(0);
  });
});
