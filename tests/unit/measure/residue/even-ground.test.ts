import { describe, expect, it } from 'vitest';
import { maskedMean } from '../../../../server/measure/raster/masked-mean.ts';
import { byteMask } from '../../../../server/measure/raster/plane.ts';
import type { Plane } from '../../../../server/measure/raster/plane.ts';
import { evenGround } from '../../../../server/measure/residue/even-ground.ts';
import type { EvenGround } from '../../../../server/measure/residue/even-ground.ts';
import { EVEN_BANDS } from '../../../../server/measure/residue/even-texture.ts';
import { lightnessBandSquares } from '../../../../server/measure/residue/lightness-band.ts';
import { labOf } from '../../../support/plain-view.ts';
import { seededNormal, seededRandom } from '../../../support/seeded-random.ts';

const SIDE = 300;
const STEP_MM = 0.25;
const BAND = EVEN_BANDS[1];
const ON = { ...BAND.cells, stepMm: STEP_MM };
const whole = byteMask(SIDE, SIDE);
whole.values.fill(1);

type Roughness = (column: number, row: number) => number;

function squaresOf(sigmaAt: Roughness, { seed = 1, mask = whole } = {}): Plane {
  const random = seededRandom(seed);
  const lab = labOf(SIDE, SIDE, (column, row) => [50 + sigmaAt(column, row) * seededNormal(random), 0, 0]);
  return lightnessBandSquares({ lab, mask, stepMm: STEP_MM }, BAND);
}
function groundOf(sigmaAt: Roughness, { seed = 1, mask = whole } = {}): EvenGround {
  const ground = evenGround(squaresOf(sigmaAt, { seed, mask }), mask, ON);
  if (ground === null) throw new Error('expected something that counts');
  return ground;
}
/** Patches of 10 mm, so many of ten. */
const inPatches = (column: number, row: number, ofTen: number): boolean =>
  (7 * Math.floor(column / 40) + 3 * Math.floor(row / 40)) % 10 < ofTen;

describe('the square of even ground', () => {
  it('is the mean square where the texture is even', () => {
    for (const seed of [1, 2, 3]) {
      const mean = maskedMean(squaresOf(() => 2, { seed }).values, whole);
      expect(groundOf(() => 2, { seed }).square / mean).toBeCloseTo(1, 1);
    }
  });

  it('rises by less than the part that is rougher, however rough that is', () => {
    const even = groundOf(() => 1).square;
    for (const ofTen of [2, 4, 6]) {
      const { square } = groundOf((column, row) => (inPatches(column, row, ofTen) ? 3 : 1));
      expect(square / even).toBeGreaterThan(1);
      // Neighbours of a patch see a little of it.
      expect(square / even).toBeLessThan(1.1 * (1 + ofTen / 10));
      const rougher = groundOf((column, row) => (inPatches(column, row, ofTen) ? 9 : 1));
      expect(rougher.square / square).toBeCloseTo(1, 0);
    }
  });

  it('is rough where all of the surface is', () => {
    expect(groundOf(() => 3).square / groundOf(() => 1).square).toBeCloseTo(9, 1);
  });

  it('is uneven where a fifth is three times as rough: about the logarithm of nine more than an even one', () => {
    const even = groundOf(() => 1).unevenness;
    const patchy = groundOf((column, row) => (inPatches(column, row, 2) ? 3 : 1)).unevenness;
    expect(groundOf(() => 3).unevenness).toBeCloseTo(even, 6);
    expect(patchy - even).toBeGreaterThan(0.7 * Math.log(9));
    expect(patchy - even).toBeLessThan(1.1 * Math.log(9));
  });

  it('counts the cells that are covered, and is nothing where nothing counts', () => {
    // 300 px of 0.25 mm in cells of 2.5 mm.
    expect(groundOf(() => 1).cells).toBe(30 * 30);
    const corner = byteMask(SIDE, SIDE);
    for (let row = 0; row < 100; row++) corner.values.fill(1, row * SIDE, row * SIDE + 102);
    expect(groundOf(() => 1, { mask: corner }).cells).toBe(10 * 10);
    const nothing = byteMask(SIDE, SIDE);
    const squares = squaresOf(() => 1);
    expect(evenGround(squares, nothing, ON)).toBeNull();
  });
});
