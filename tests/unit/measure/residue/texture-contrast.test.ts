import { describe, expect, it } from 'vitest';
import { byteMask } from '../../../../server/measure/raster/plane.ts';
import type { ByteMask } from '../../../../server/measure/raster/plane.ts';
import { textureOf } from '../../../../server/measure/residue/texture-contrast.ts';
import type { LabAt } from '../../../support/plain-view.ts';
import { labOf } from '../../../support/plain-view.ts';
import { seededNormal, seededRandom } from '../../../support/seeded-random.ts';

const [WIDTH, HEIGHT] = [200, 200];
const all: ByteMask = byteMask(WIDTH, HEIGHT);
all.values.fill(1);

function contrastOf(at: LabAt, { stepMm = 0.25, mask = all } = {}): number {
  return Math.sqrt(Math.max(0, textureOf({ lab: labOf(WIDTH, HEIGHT, at), mask, stepMm })?.square ?? NaN));
}

/** Waves of lightness about L* 50, where a step of L* is a step of CIEDE2000 (Sharma et al. 2005: S_L = 1 at L* 50). */
const waves =
  (amplitude: number, wavelengthMm: number, stepMm = 0.25): LabAt =>
  (column) => [50 + amplitude * Math.sin((2 * Math.PI * (column + 0.37) * stepMm) / wavelengthMm), 0, 0];

describe('texture contrast', () => {
  it('of a sine is its amplitude over root two, times what the band passes', () => {
    // Half the amplitude at 0.5 and 5 mm, Gaussian flanks: 0.5^((0.5 / w)^2) - 0.5^((5 / w)^2), by hand.
    for (const [wavelength, gain] of [
      [1, 0.841],
      [1.58, 0.932],
      [2, 0.944],
      [3, 0.835],
    ] as const) {
      expect(contrastOf(waves(4, wavelength)) / (4 / Math.SQRT2)).toBeCloseTo(gain, 1);
    }
  });

  it('of waves at the coarse end of the band, 5 mm, is about half', () => {
    const share = contrastOf(waves(4, 5)) / (4 / Math.SQRT2);
    expect(share).toBeGreaterThan(0.38);
    expect(share).toBeLessThan(0.62);
  });

  it('of waves far coarser than the band is next to nothing', () => {
    expect(contrastOf(waves(4, 40)) / (4 / Math.SQRT2)).toBeLessThan(0.06);
  });

  it('doubles with the amplitude and does not depend on the direction', () => {
    expect(contrastOf(waves(6, 2)) / contrastOf(waves(3, 2))).toBeCloseTo(2, 2);
    const turned: LabAt = (column, row) => waves(3, 2)(row, column);
    expect(contrastOf(turned)).toBeCloseTo(contrastOf(waves(3, 2)), 2);
  });

  it('of the same surface is about the same on a coarser grid', () => {
    const fine = contrastOf(waves(4, 2.5, 0.25), { stepMm: 0.25 });
    const coarse = contrastOf(waves(4, 2.5, 0.4), { stepMm: 0.4 });
    expect(coarse / fine).toBeCloseTo(1, 1);
  });

  it('of a level surface is 0, up to the rim of what is bare', () => {
    const mask = byteMask(WIDTH, HEIGHT);
    for (let i = 0; i < mask.values.length; i++) mask.values[i] = i % WIDTH < 80 ? 1 : 0;
    // Rust beside the bare part does not leak in.
    const beside: LabAt = (column) => (column < 80 ? [60, 0, 3] : [35, 20, 25]);
    expect(contrastOf(beside, { mask })).toBeLessThan(0.01);
  });

  it('of noise from pixel to pixel is the part of it that lies in the band', () => {
    const random = seededRandom(40);
    // Autocorrelation of the filter at no shift: three Gaussians of 0.53, 3.77 and 5.3 px: 0.558 - 2 x 0.0112 + 0.0059.
    expect(contrastOf(() => [50 + 1.5 * seededNormal(random), 0, 0]) / 1.5).toBeCloseTo(Math.sqrt(0.541), 1);
  });

  it('is the same through a mask full of holes, whatever lies in them', () => {
    const random = seededRandom(8);
    const grain = Float32Array.from({ length: WIDTH * HEIGHT }, () => 1.5 * seededNormal(random));
    const at =
      (isHole: (column: number, row: number) => boolean): LabAt =>
      (column, row) =>
        isHole(column, row)
          ? [20, 30, 30]
          : [50 + grain[row * WIDTH + column] + waves(2, 2)(column, row)[0] - 50, 0, 0];
    // Islands of 8 px, 2 mm, in a sea twice as wide: narrower than the coarse end of the band.
    const isSea = (column: number, row: number): boolean => column % 24 >= 8 || row % 24 >= 8;
    const mask = byteMask(WIDTH, HEIGHT);
    for (let i = 0; i < mask.values.length; i++) mask.values[i] = isSea(i % WIDTH, Math.floor(i / WIDTH)) ? 0 : 1;
    expect(contrastOf(at(isSea), { mask }) / contrastOf(at(() => false))).toBeCloseTo(1, 1);
  });

  it('knows how much it scatters from one surface to the next of the same kind', () => {
    const found = Array.from({ length: 12 }, (_, n) => {
      const random = seededRandom(100 + n);
      const at: LabAt = () => [50 + 1.5 * seededNormal(random), 0, 0];
      return textureOf({ lab: labOf(WIDTH, HEIGHT, at), mask: all, stepMm: 0.25 }) ?? { square: NaN, sigma: NaN };
    });
    const mean = found.reduce((sum, { square }) => sum + square, 0) / found.length;
    const scatter = Math.sqrt(found.reduce((sum, { square }) => sum + (square - mean) ** 2, 0) / (found.length - 1));
    const said = found.reduce((sum, { sigma }) => sum + sigma, 0) / found.length;
    expect(said / scatter).toBeGreaterThan(0.5);
    expect(said / scatter).toBeLessThan(2);
  });

  it('is not measured where nothing is bare', () => {
    const mask = byteMask(WIDTH, HEIGHT);
    expect(textureOf({ lab: labOf(WIDTH, HEIGHT, () => [50, 0, 0]), mask, stepMm: 0.25 })).toBeNull();
  });
});
