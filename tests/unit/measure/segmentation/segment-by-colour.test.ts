import { describe, expect, it } from 'vitest';
import { CLASS_CODE, SURFACE_CLASSES } from '../../../../server/domain/index.ts';
import type { SurfaceClass } from '../../../../server/domain/index.ts';
import { BLOCKED } from '../../../../server/measure/geometry/rectify-photo.ts';
import { segmentByColour } from '../../../../server/measure/segmentation/segment-by-colour.ts';
import type { Segmentation } from '../../../../server/measure/segmentation/segmentation.ts';
import type { SurfaceView } from '../../../../server/measure/view-surface.ts';
import { plainView } from '../../../support/plain-view.ts';
import { seededNormal, seededRandom } from '../../../support/seeded-random.ts';

type Lab = readonly [number, number, number];
const SIDE = 120;

/** A patch of one colour with a photo's grain: three tenths of it in colour. */
function patchOf([L, a, b]: Lab, grain: number, stepMm: number | null = 0.25): SurfaceView {
  const random = seededRandom(3);
  return plainView({ width: SIDE, height: SIDE, stepMm }, () => [
    L + grain * seededNormal(random),
    a + 0.3 * grain * seededNormal(random),
    b + 0.3 * grain * seededNormal(random),
  ]);
}

function shareOf(segmentation: Segmentation, name: SurfaceClass): number {
  const { values } = segmentation.codes;
  return values.filter((code) => code === CLASS_CODE[name]).length / values.length;
}

const PATCHES: readonly (readonly [SurfaceClass, string, Lab, number])[] = [
  ['bare', 'grey steel', [62, 0, 3], 1.5],
  ['bare', 'duller grey steel', [52, 0, 2], 1.5],
  ['rust', 'brown', [38, 18, 24], 1.5],
  ['rust', 'red-brown', [40, 24, 30], 1.5],
  ['scale', 'blue-black', [27, -0.5, -5], 1.5],
  ['coating', 'green', [45, -25, 15], 1.5],
  ['coating', 'blue', [40, -5, -30], 1.5],
  ['stain', 'a straw shadow on smooth steel', [62, 5, 15], 0],
];

describe('the colour segmenter', () => {
  it.each(PATCHES)('calls %s what is %s', (name, _, colour, grain) => {
    expect(shareOf(segmentByColour(patchOf(colour, grain)), name)).toBeGreaterThan(0.95);
  });

  it('gives probabilities that add up to one on what is measured and are 0 elsewhere', () => {
    const view = patchOf([45, 8, 12], 6);
    view.zone.values.fill(0, 0, 10 * SIDE);
    const { codes, probabilities } = segmentByColour(view);
    for (let i = 0; i < codes.values.length; i++) {
      const sum = probabilities.reduce((total, layer) => total + layer[i], 0);
      if (codes.values[i] === 0) expect(sum).toBe(0);
      else expect(Math.abs(sum - 255)).toBeLessThanOrEqual(3);
    }
    expect([...codes.values.subarray(0, 10 * SIDE)].every((code) => code === 0)).toBe(true);
  });

  it('names the most probable class', () => {
    const { codes, probabilities } = segmentByColour(patchOf([45, 8, 12], 6));
    for (let i = 0; i < codes.values.length; i += 7) {
      const best = Math.max(...probabilities.map((layer) => layer[i]));
      expect(probabilities[codes.values[i] - 1][i]).toBeGreaterThanOrEqual(best - 1);
    }
  });

  it('does not measure what was blocked, and blocks glints and black by itself', () => {
    const random = seededRandom(3);
    const view = plainView({ width: SIDE, height: SIDE, stepMm: 0.25 }, (column, row) => {
      if (column < 4 && row < 4) return [97, 0, 2];
      if (column >= 100) return [1.5, 0, 0];
      return [40 + 1.5 * seededNormal(random), 18, 24];
    });
    view.blocked.values[50 * SIDE + 50] = BLOCKED.clipped;
    const { codes, blocked } = segmentByColour(view);
    const at = (column: number, row: number): readonly [number, number] => [
      codes.values[row * SIDE + column],
      blocked.values[row * SIDE + column],
    ];
    expect(at(50, 50)).toEqual([0, BLOCKED.clipped]);
    expect(at(1, 1)).toEqual([0, BLOCKED.glare]);
    expect(at(110, 60)).toEqual([0, BLOCKED.shadow]);
    expect(at(60, 60)[0]).not.toBe(0);
    expect(at(60, 60)[1]).toBe(0);
  });

  it('finds the same shares when the surface is turned by a half', () => {
    const random = seededRandom(8);
    const cells = Float32Array.from({ length: 3 * SIDE * SIDE }, () => seededNormal(random));
    const upright = (column: number, row: number): Lab => {
      const i = 3 * (row * SIDE + column);
      const [L, a, b]: Lab = (column - 40) ** 2 + (row - 70) ** 2 < 900 ? [38, 18, 24] : [62, 0, 3];
      return [L + 1.5 * cells[i], a + 0.5 * cells[i + 1], b + 0.5 * cells[i + 2]];
    };
    const size = { width: SIDE, height: SIDE, stepMm: 0.25 };
    const there = segmentByColour(plainView(size, upright));
    const back = segmentByColour(plainView(size, (column, row) => upright(SIDE - 1 - column, SIDE - 1 - row)));
    for (const name of SURFACE_CLASSES) expect(shareOf(back, name)).toBeCloseTo(shareOf(there, name), 2);
    // A disc of 30 pixels' radius.
    expect(shareOf(there, 'rust')).toBeCloseTo((Math.PI * 900) / (SIDE * SIDE), 1);
  });

  it('says the same of the same view twice', () => {
    const [first, second] = [segmentByColour(patchOf([45, 8, 12], 6)), segmentByColour(patchOf([45, 8, 12], 6))];
    expect(second.codes).toEqual(first.codes);
    expect(second.shareSigma).toEqual(first.shareSigma);
  });

  it('doubts its shares more without a card than with one', () => {
    const view = patchOf([48, 9, 13], 4);
    const known: SurfaceView = {
      ...view,
      normalisation: { ...view.normalisation, heldOut: { median: 1, p95: 2, max: 3 } },
    };
    expect(segmentByColour(view).shareSigma.residue).toBeGreaterThan(segmentByColour(known).shareSigma.residue);
  });
});
