import { describe, expect, it } from 'vitest';
import { byteMask } from '../../../../server/measure/raster/plane.ts';
import { heatTintShare } from '../../../../server/measure/residue/heat-tint.ts';
import type { LabAt } from '../../../support/plain-view.ts';
import { labOf } from '../../../support/plain-view.ts';

type Lab = readonly [number, number, number];
const STEEL: Lab = [62, 0, 3];
/** Colours of temper charts, in Lab from memory: straw, purple, blue. */
const [STRAW, PURPLE, BLUE]: Lab[] = [
  [68, 5, 26],
  [42, 14, -14],
  [45, -1, -20],
];

function shareOf(at: LabAt, code: (column: number, row: number) => number = () => 1): number {
  const codes = byteMask(100, 10);
  for (let i = 0; i < 1000; i++) codes.values[i] = code(i % 100, Math.floor(i / 100));
  return heatTintShare(labOf(100, 10, at), codes);
}
const firstColumns =
  (count: number, colour: Lab): LabAt =>
  (column) =>
    column < count ? colour : STEEL;

describe('heat tint', () => {
  it('is not on plain steel', () => {
    expect(shareOf(() => STEEL)).toBe(0);
  });

  it.each([
    ['blue', BLUE],
    ['purple', PURPLE],
  ] as const)('is the share that is %s', (_, colour) => {
    expect(shareOf(firstColumns(7, colour))).toBeCloseTo(0.07, 12);
  });

  it('counts straw only beside some blue or purple, as straw alone may be stain', () => {
    expect(shareOf(firstColumns(20, STRAW))).toBe(0);
    const both: LabAt = (column) => (column < 20 ? STRAW : column < 25 ? BLUE : STEEL);
    expect(shareOf(both)).toBeCloseTo(0.25, 12);
  });

  it('is sought on bare and stained steel alone: blue-black scale and blue paint are none', () => {
    expect(
      shareOf(
        () => BLUE,
        () => 4,
      ),
    ).toBe(0);
    expect(
      shareOf(
        () => BLUE,
        () => 5,
      ),
    ).toBe(0);
    expect(
      shareOf(
        () => BLUE,
        () => 2,
      ),
    ).toBe(1);
  });

  it('is a share of the measured part', () => {
    expect(shareOf(firstColumns(10, BLUE), (column) => (column < 50 ? 1 : 0))).toBeCloseTo(0.2, 12);
    expect(
      shareOf(
        () => BLUE,
        () => 0,
      ),
    ).toBe(0);
  });
});
