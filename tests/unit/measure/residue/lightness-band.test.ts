import { describe, expect, it } from 'vitest';
import { maskedMean } from '../../../../server/measure/raster/masked-mean.ts';
import { byteMask } from '../../../../server/measure/raster/plane.ts';
import type { ByteMask } from '../../../../server/measure/raster/plane.ts';
import { lightnessBandSquares, wellSurrounded } from '../../../../server/measure/residue/lightness-band.ts';
import type { LabAt } from '../../../support/plain-view.ts';
import { labOf } from '../../../support/plain-view.ts';

const SIDE = 240;
const STEP_MM = 0.1;
const BAND = { finestMm: 1, coarsestMm: 2.2 };

const whole = byteMask(SIDE, SIDE);
whole.values.fill(1);
/** Away from the outline, where the filter has its surroundings. */
const inner = byteMask(SIDE, SIDE);
for (let i = 0; i < inner.values.length; i++) {
  const [column, row] = [i % SIDE, Math.floor(i / SIDE)];
  inner.values[i] = Math.min(column, row, SIDE - 1 - column, SIDE - 1 - row) >= 20 ? 1 : 0;
}

const wave =
  (wavelengthMm: number, amplitude = 2): LabAt =>
  (column) => [50 + amplitude * Math.sin((2 * Math.PI * column * STEP_MM) / wavelengthMm), 0, 0];
const meanSquare = (at: LabAt, mask: ByteMask = whole): number =>
  maskedMean(lightnessBandSquares({ lab: labOf(SIDE, SIDE, at), mask, stepMm: STEP_MM }, BAND).values, inner);

describe('texture in lightness', () => {
  it('passes waves as a difference of two Gaussians does', () => {
    // A Gaussian that passes half the amplitude at w passes 2^-(w / x)^2 of it at x: 0.735 less 0.225 at 1.5 mm. At L* 50 a
    // unit of L* is a unit of CIEDE2000; a wave's mean square is half its amplitude squared.
    expect(meanSquare(wave(1.5))).toBeCloseTo(2 * (2 ** -((1 / 1.5) ** 2) - 2 ** -((2.2 / 1.5) ** 2)) ** 2, 1);
    expect(Math.sqrt(meanSquare(wave(1.5)) / 2)).toBeCloseTo(0.51, 2);
  });

  it('passes next to nothing that is finer or coarser', () => {
    expect(meanSquare(wave(0.4))).toBeLessThan(0.001 * meanSquare(wave(1.5)));
    expect(meanSquare(wave(12))).toBeLessThan(0.01 * meanSquare(wave(1.5)));
  });

  it('grows with the square of the contrast', () => {
    expect(meanSquare(wave(1.5, 4)) / meanSquare(wave(1.5, 2))).toBeCloseTo(4, 2);
  });

  it('does not see colour', () => {
    const coloured: LabAt = (column, row) => [50, 6 * Math.sin(column / 2), 6 * Math.cos(row / 2)];
    expect(meanSquare(coloured)).toBeLessThan(1e-6);
  });

  it('lets nothing in from what does not count', () => {
    const mask = byteMask(SIDE, SIDE);
    mask.values.fill(1);
    const isGap = (column: number, row: number): boolean => column > 100 && column < 140 && row > 100 && row < 140;
    for (let i = 0; i < mask.values.length; i++) if (isGap(i % SIDE, Math.floor(i / SIDE))) mask.values[i] = 0;
    const at: LabAt = (column, row) => (isGap(column, row) ? [5, 60, 60] : [50, 0, 0]);
    const { values } = lightnessBandSquares({ lab: labOf(SIDE, SIDE, at), mask, stepMm: STEP_MM }, BAND);
    expect(Math.max(...values)).toBeLessThan(1e-6);
  });
});

describe('what has surroundings', () => {
  it('is ground, up to its straight rim, and no scrap narrower than the wavelength', () => {
    const mask = byteMask(SIDE, SIDE);
    for (let row = 0; row < SIDE; row++) {
      mask.values.fill(1, row * SIDE + 100, row * SIDE + 240);
      mask.values.fill(1, row * SIDE + 40, row * SIDE + 44);
    }
    const { values } = wellSurrounded(mask, 2.2, STEP_MM);
    const row = 120 * SIDE;
    // Half of what surrounds a pixel on a straight rim lies beyond it; the pixel itself tips the balance.
    expect([values[row + 99], values[row + 100], values[row + 101], values[row + 170]]).toEqual([0, 1, 1, 1]);
    expect(values.subarray(row, row + 60).every((v) => v === 0)).toBe(true);
  });

  it('is nothing where nothing counts', () => {
    expect(wellSurrounded(byteMask(20, 20), 2.2, STEP_MM).values.every((v) => v === 0)).toBe(true);
  });
});
