import { describe, expect, it } from 'vitest';
import type { SurfaceGrid } from '../../../../server/measure/geometry/surface-grid.ts';
import { byteMask } from '../../../../server/measure/raster/plane.ts';
import { worstUnitAreas } from '../../../../server/measure/residue/worst-unit-area.ts';
import { seededRandom } from '../../../support/seeded-random.ts';

/** 120 x 110 mm at 2 mm: the 76 mm square is 38 pixels. */
const grid: SurfaceGrid = { unit: 'mm', width: 60, height: 55, step: 2, origin: [10, -20], angle: 0 };
const SIDE = 38;

function codesFrom(seed: number): Uint8Array {
  const random = seededRandom(seed);
  const codes = new Uint8Array(60 * 55);
  for (let i = 0; i < codes.length; i++) {
    const x = i % 60;
    // More rust to the right, so that the worst square is not in the middle.
    codes[i] = random() < 0.25 + 0.005 * x ? 3 : Math.floor(6 * random());
  }
  return codes;
}
const search = (codes: Uint8Array, zone = new Uint8Array(codes.length).fill(1), on: SurfaceGrid = grid) =>
  worstUnitAreas({
    grid: on,
    zone: { ...byteMask(on.width, on.height), values: zone },
    codes: { ...byteMask(on.width, on.height), values: codes },
  });

/** The same by counting every pixel of every square. */
function slowly(codes: Uint8Array, isCounted: (code: number) => boolean): { share: number; left: number; top: number } {
  let worst = { share: -1, left: 0, top: 0 };
  for (let top = 0; top + SIDE <= 55; top++) {
    for (let left = 0; left + SIDE <= 60; left++) {
      let measured = 0;
      let counted = 0;
      for (let y = top; y < top + SIDE; y++) {
        for (let x = left; x < left + SIDE; x++) {
          const code = codes[y * 60 + x];
          if (code !== 0) measured++;
          if (isCounted(code)) counted++;
        }
      }
      if (counted / measured > worst.share) worst = { share: counted / measured, left, top };
    }
  }
  return worst;
}

describe('the worst 76 mm square', () => {
  it.each([1, 2, 3])('is the one that trying every place finds, seed %d', (seed) => {
    const codes = codesFrom(seed);
    const found = search(codes);
    const residue = slowly(codes, (code) => code >= 3);
    const stain = slowly(codes, (code) => code === 2);
    expect(found?.residue.residueFraction).toBeCloseTo(residue.share, 12);
    expect(found?.residue.centreMm).toEqual([10 + 2 * (residue.left + 19), -20 + 2 * (residue.top + 19)]);
    expect(found?.stain.stainFraction).toBeCloseTo(stain.share, 12);
    expect(found?.residue.sideMm).toBe(76);
  });

  it('moves with the surface when that is turned by a half', () => {
    const codes = codesFrom(4);
    const there = search(codes);
    const back = search(Uint8Array.from(codes).reverse());
    expect(back?.residue.residueFraction).toBeCloseTo(there?.residue.residueFraction ?? NaN, 12);
    const [x, y] = there?.residue.centreMm ?? [NaN, NaN];
    expect(back?.residue.centreMm[0]).toBeCloseTo(10 + 120 - (x - 10), 9);
    expect(back?.residue.centreMm[1]).toBeCloseTo(-20 + 110 - (y + 20), 9);
  });

  it('says how it lies in the card frame: along the grid', () => {
    const quarter = search(codesFrom(5), undefined, { ...grid, angle: Math.PI / 4 });
    expect(quarter?.residue.turnDegrees).toBeCloseTo(45, 9);
    expect(search(codesFrom(5))?.residue.turnDegrees).toBe(0);
  });

  it('holds a patch of rust the size of the square wholly', () => {
    const codes = new Uint8Array(60 * 55).fill(1);
    for (let y = 9; y < 9 + SIDE; y++) codes.fill(3, y * 60 + 13, y * 60 + 13 + SIDE);
    const found = search(codes);
    expect(found?.residue).toMatchObject({ residueFraction: 1, centreMm: [10 + 2 * 32, -20 + 2 * 28] });
  });

  it('stays in the zone', () => {
    const codes = new Uint8Array(60 * 55).fill(1);
    const zone = new Uint8Array(60 * 55);
    for (let y = 0; y < 55; y++) {
      // Rust from column 50 on lies out of the zone.
      codes.fill(3, y * 60 + 50, y * 60 + 60);
      zone.fill(1, y * 60, y * 60 + 50);
    }
    expect(search(codes, zone)?.residue.residueFraction).toBe(0);
  });

  it('is of what was measured, and is not claimed where less than half was', () => {
    const codes = new Uint8Array(60 * 55);
    for (let i = 0; i < codes.length; i++) codes[i] = i % 5 < 3 ? (i % 5 === 0 ? 3 : 1) : 0;
    // In a row of 38 from a rusted column on: 8 rusted and 14 bare pixels of 22 measured.
    expect(search(codes)?.residue.residueFraction).toBeCloseTo(8 / 22, 9);
    const sparse = codes.map((code, i) => (i % 5 === 0 ? code : 0));
    expect(search(sparse)).toBeNull();
  });

  it('does not exist in a zone smaller than it, nor in a photo without millimetres', () => {
    const small: SurfaceGrid = { ...grid, width: 37 };
    expect(search(new Uint8Array(37 * 55).fill(1), new Uint8Array(37 * 55).fill(1), small)).toBeNull();
    expect(search(codesFrom(1), undefined, { ...grid, unit: 'px' })).toBeNull();
  });
});
