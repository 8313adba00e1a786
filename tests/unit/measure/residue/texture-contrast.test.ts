import { describe, expect, it } from 'vitest';
import { byteMask } from '../../../../server/measure/raster/plane.ts';
import type { ByteMask } from '../../../../server/measure/raster/plane.ts';
import { tileTextures } from '../../../../server/measure/residue/texture-contrast.ts';
import type { LabAt } from '../../../support/plain-view.ts';
import { labOf } from '../../../support/plain-view.ts';
import { seededNormal, seededRandom } from '../../../support/seeded-random.ts';

const [WIDTH, HEIGHT] = [200, 200];
const all: ByteMask = byteMask(WIDTH, HEIGHT);
all.values.fill(1);

function contrastOf(at: LabAt, { stepMm = 0.25, mask = all } = {}): number {
  const tiles = tileTextures({ lab: labOf(WIDTH, HEIGHT, at), mask, stepMm });
  const weight = tiles.reduce((sum, tile) => sum + tile.pixels, 0);
  return Math.sqrt(tiles.reduce((sum, tile) => sum + tile.pixels * tile.contrast ** 2, 0) / weight);
}

/** Waves of lightness about L* 50, where a step of L* is a step of CIEDE2000 (Sharma et al. 2005: S_L = 1 at L* 50). */
const waves =
  (amplitude: number, wavelengthMm: number, stepMm = 0.25): LabAt =>
  (column) => [50 + amplitude * Math.sin((2 * Math.PI * (column + 0.37) * stepMm) / wavelengthMm), 0, 0];

describe('texture contrast', () => {
  it('of a sine in the band is its amplitude over root two', () => {
    for (const wavelength of [1, 2]) {
      expect(contrastOf(waves(4, wavelength)) / (4 / Math.SQRT2)).toBeCloseTo(1, 1);
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

  it('of noise is its standard deviation', () => {
    const random = seededRandom(40);
    expect(contrastOf(() => [50 + 1.5 * seededNormal(random), 0, 0]) / 1.5).toBeCloseTo(1, 1);
  });

  it('is not measured where nothing is bare', () => {
    expect(
      tileTextures({ lab: labOf(WIDTH, HEIGHT, () => [50, 0, 0]), mask: byteMask(WIDTH, HEIGHT), stepMm: 0.25 }),
    ).toEqual([]);
  });
});
