import { describe, expect, it } from 'vitest';
import { measured, measuredShare } from '../../../server/domain/index.ts';
import type { Measured, Surface } from '../../../server/domain/index.ts';
import { SEVERAL_PHOTOS_PART, comparePatches } from '../../../server/measure/compare-patches.ts';
import { bareSegmentation } from '../../support/bare-segmentation.ts';
import { pictureOfCard } from '../../support/picture-of-card.ts';
import { faceOn } from '../../support/placed-card.ts';
import { plainView } from '../../support/plain-view.ts';
import { seededNormal, seededRandom } from '../../support/seeded-random.ts';

const around = (value: number, half: number): Measured => measuredShare(value, value - half, value + half);
const NONE = around(0, 0.01);

const patch = (residue: Measured, textureContrast: Measured | null = measured(2, 1.9, 2.1)): { surface: Surface } => ({
  surface: {
    fractions: { bare: NONE, stain: NONE, rust: residue, scale: NONE, coating: NONE },
    residue,
    appearance: {
      lightness: null,
      textureContrast,
      heatTintFraction: 0 as Surface['appearance']['heatTintFraction'],
    },
    unmeasuredFraction: 0 as Surface['unmeasuredFraction'],
    worstUnitArea: null,
  },
});
type Reading = Parameters<typeof comparePatches>[0][number][1];
const pairOf = (a: Reading, b: Reading, part?: number) =>
  comparePatches(
    [
      ['A', a],
      ['B', b],
    ],
    part,
  )[0];

const photo = pictureOfCard({ width: 620, height: 420, toPhoto: faceOn(4, [0, 0]) });
const size = { width: 320, height: 240 };
/** Steel with grain of `sigma` in L*, in places five times that where it is pitted; its stored texture is what pits make of it. */
async function seen(sigma: number, stored: number, { isPitted = false, seed = 1 } = {}): Promise<Reading> {
  const random = seededRandom(seed);
  const isPit = (column: number, row: number): boolean => isPitted && column % 40 < 20 && row % 40 < 20;
  const view = plainView({ ...size, stepMm: 0.25 }, (column, row) => [
    56 + (isPit(column, row) ? 5 : 1) * sigma * seededNormal(random),
    0,
    0,
  ]);
  const surface = patch(around(0.1, 0.02), measured(stored, 0.98 * stored, 1.02 * stored));
  return { ...surface, raster: await photo, view, segmentation: bareSegmentation(size) };
}

describe('comparing patches of one photo', () => {
  it('calls the cleaner and the smoother where the difference is clear', () => {
    const pair = pairOf(
      patch(around(0.05, 0.02), measured(3, 2.9, 3.1)),
      patch(around(0.2, 0.02), measured(2, 1.9, 2.1)),
    );
    expect(pair).toMatchObject({ a: 'A', b: 'B', residue: 'a cleaner', texture: 'b smoother' });
    expect(pair.because).toContain('residue 5.0 % against 20.0 %');
  });

  it('answers the other way round when the patches are swapped', () => {
    const [first, second] = [
      patch(around(0.05, 0.02), measured(3, 2.9, 3.1)),
      patch(around(0.2, 0.02), measured(2, 1.9, 2.1)),
    ];
    expect(pairOf(second, first)).toMatchObject({ residue: 'b cleaner', texture: 'a smoother' });
  });

  it('finds no real difference between equals', () => {
    const same = patch(around(0.1, 0.02));
    expect(pairOf(same, same)).toMatchObject({ residue: 'no real difference', texture: 'no real difference' });
  });

  it('finds no real difference within the uncertainty, and says how large that is', () => {
    const pair = pairOf(patch(around(0.1, 0.08)), patch(around(0.125, 0.08)));
    expect(pair.residue).toBe('no real difference');
    expect(pair.because).toMatch(/within its uncertainty of \d/);
  });

  it('asks for more between photos than within one, where errors are shared', () => {
    const [first, second] = [patch(around(0.1, 0.03)), patch(around(0.135, 0.03))];
    expect(pairOf(first, second).residue).toBe('a cleaner');
    expect(pairOf(first, second, SEVERAL_PHOTOS_PART).residue).toBe('no real difference');
  });

  it('does not compare textures where one patch has too little bare steel', () => {
    const pair = pairOf(patch(around(0.9, 0.02), null), patch(around(0.1, 0.02)));
    expect(pair).toMatchObject({ residue: 'b cleaner', texture: 'no real difference' });
    expect(pair.because).toContain('too little bare steel');
  });

  it('tells rough steel from steel whose texture the noise explains', () => {
    const residue = around(0.1, 0.02);
    const smooth = patch(residue, measured(0, 0, 0.4));
    expect(pairOf(smooth, patch(residue, measured(0.8, 0.6, 0.95))).texture).toBe('a smoother');
    expect(pairOf(smooth, patch(residue, measured(0.2, 0, 0.45))).texture).toBe('no real difference');
    expect(pairOf(smooth, smooth).texture).toBe('no real difference');
  });

  it('does not call a difference in texture that is sure but too small to matter', () => {
    const residue = around(0.1, 0.02);
    const [first, second] = [patch(residue, measured(2, 1.99, 2.01)), patch(residue, measured(2.2, 2.19, 2.21))];
    expect(pairOf(first, second).texture).toBe('no real difference');
  });

  it('compares the even steel where the photo is at hand: pits do not make its finish rough', async () => {
    const [pitted, plain] = [await seen(1, 3, { isPitted: true }), await seen(1.3, 1.3, { seed: 2 })];
    const pair = pairOf(pitted, plain);
    expect(pair.texture).toBe('a smoother');
    expect(pair.because).toContain('texture of the even steel');
    expect(pairOf(plain, pitted).texture).toBe('b smoother');
  });

  it('says what each band shows', async () => {
    const { because } = pairOf(await seen(1, 1), await seen(2, 2, { seed: 3 }));
    expect(because).toMatch(/even steel \d\.\d\d, \d\.\d\d, \d\.\d\d against \d\.\d\d, \d\.\d\d, \d\.\d\d CIEDE2000/);
    expect(because).toContain(
      '(0.7 to 1.4 mm, 1 to 2.2 mm, 2.2 to 5 mm), with blur, noise, light and unevenness weighed in',
    );
  });

  it('finds no real difference between two draws of one grain', async () => {
    expect(pairOf(await seen(1, 1), await seen(1, 1.3, { seed: 5 })).texture).toBe('no real difference');
  });

  it('goes by what was stored where the patches are of different photos, or one of them is too little bare', async () => {
    const [first, second] = [await seen(1, 1), await seen(1.3, 1, { seed: 2 })];
    expect(pairOf(first, { ...second, raster: { ...(await photo) } }).texture).toBe('no real difference');
    const rusted = bareSegmentation(size);
    rusted.codes.values.fill(3);
    expect(pairOf(first, { ...second, segmentation: rusted }).because).toContain('texture 1.00 against 1.00');
  });

  it('pairs every patch with every other once', () => {
    const named = ['A', 'B', 'C', 'D'].map((name) => [name, patch(around(0.1, 0.02))] as const);
    const names = comparePatches(named).map(({ a, b }) => `${a}${b}`);
    expect(names).toEqual(['AB', 'AC', 'AD', 'BC', 'BD', 'CD']);
    expect(comparePatches(named.slice(0, 1))).toEqual([]);
  });
});
