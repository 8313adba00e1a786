import { describe, expect, it } from 'vitest';
import { maskedMean } from '../../../../server/measure/raster/masked-mean.ts';
import { byteMask } from '../../../../server/measure/raster/plane.ts';
import type { Plane } from '../../../../server/measure/raster/plane.ts';
import { EVEN_BANDS } from '../../../../server/measure/residue/even-texture.ts';
import { lightnessBandSquares } from '../../../../server/measure/residue/lightness-band.ts';
import { usualSquare } from '../../../../server/measure/residue/usual-square.ts';
import type { UsualSquare } from '../../../../server/measure/residue/usual-square.ts';
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
function usualOf(sigmaAt: Roughness, { seed = 1, mask = whole } = {}): UsualSquare {
  const usual = usualSquare(squaresOf(sigmaAt, { seed, mask }), mask, ON);
  if (usual === null) throw new Error('expected something that counts');
  return usual;
}
/** Patches of 10 mm, so many of ten. */
const inPatches = (column: number, row: number, ofTen: number): boolean =>
  (7 * Math.floor(column / 40) + 3 * Math.floor(row / 40)) % 10 < ofTen;

describe('the usual square of a texture', () => {
  it('is the mean square where the texture is even', () => {
    for (const seed of [1, 2, 3]) {
      const mean = maskedMean(squaresOf(() => 2, { seed }).values, whole);
      expect(usualOf(() => 2, { seed }).square / mean).toBeCloseTo(1, 1);
    }
  });

  it('stays that of the even ground where patches of it are three times as rough', () => {
    const even = usualOf(() => 1).square;
    for (const ofTen of [2, 4, 6]) {
      const { square } = usualOf((column, row) => (inPatches(column, row, ofTen) ? 3 : 1));
      expect(square / even).toBeGreaterThan(0.85);
      expect(square / even).toBeLessThan(1.15);
    }
  });

  it('is rough where all of the surface is', () => {
    expect(usualOf(() => 3).square / usualOf(() => 1).square).toBeCloseTo(9, 1);
  });

  it('has a scatter that surfaces drawn anew show', () => {
    const drawn = Array.from({ length: 12 }, (_, k) => usualOf(() => 1, { seed: 20 + k }));
    const mean = drawn.reduce((sum, { square }) => sum + square, 0) / drawn.length;
    const spread = Math.sqrt(drawn.reduce((sum, { square }) => sum + (square - mean) ** 2, 0) / (drawn.length - 1));
    const told = drawn.reduce((sum, { sigma }) => sum + sigma, 0) / drawn.length;
    expect(told / spread).toBeGreaterThan(0.5);
    expect(told / spread).toBeLessThan(2);
  });

  it('is less sure of a small surface than of a large one', () => {
    const corner = byteMask(SIDE, SIDE);
    for (let row = 0; row < 100; row++) corner.values.fill(1, row * SIDE, row * SIDE + 100);
    expect(usualOf(() => 1, { mask: corner }).sigma).toBeGreaterThan(usualOf(() => 1).sigma);
  });

  it('is as unsure as it is large where one part is all there is, and nothing where nothing counts', () => {
    const spot = byteMask(SIDE, SIDE);
    for (let row = 10; row < 40; row++) spot.values.fill(1, row * SIDE + 10, row * SIDE + 40);
    const { square, sigma } = usualOf(() => 1, { mask: spot });
    expect(sigma).toBe(square);
    const nothing = byteMask(SIDE, SIDE);
    expect(
      usualSquare(
        squaresOf(() => 1),
        nothing,
        ON,
      ),
    ).toBeNull();
  });
});
