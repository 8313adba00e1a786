import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { TILE_SIZE_PX, tileLevels } from '../../../server/services/tile-levels.ts';

describe('the levels of a tile pyramid', () => {
  it('of a photo of 12 megapixels are four', () => {
    expect(tileLevels(4032, 3024)).toEqual([
      { widthPx: 504, heightPx: 378 },
      { widthPx: 1008, heightPx: 756 },
      { widthPx: 2016, heightPx: 1512 },
      { widthPx: 4032, heightPx: 3024 },
    ]);
  });

  it('of a photo that one tile holds is one', () => {
    expect(tileLevels(512, 1)).toEqual([{ widthPx: 512, heightPx: 1 }]);
  });

  it('begin with one tile, end with the photo and double in between', () => {
    const side = fc.integer({ min: 1, max: 20_000 });
    fc.assert(
      fc.property(side, side, (width, height) => {
        const levels = tileLevels(width, height);
        expect(Math.max(levels[0].widthPx, levels[0].heightPx)).toBeLessThanOrEqual(TILE_SIZE_PX);
        expect(levels.at(-1)).toEqual({ widthPx: width, heightPx: height });
        for (let i = 1; i < levels.length; i++) {
          expect(Math.abs(levels[i].widthPx - 2 * levels[i - 1].widthPx)).toBeLessThanOrEqual(1);
        }
      }),
    );
  });
});
