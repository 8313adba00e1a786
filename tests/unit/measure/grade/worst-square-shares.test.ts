import { describe, expect, it } from 'vitest';
import { fraction, measuredShare, type Measured, type WorstUnitArea } from '../../../../server/domain/index.ts';
import { worstSquareShares } from '../../../../server/measure/grade/worst-square-shares.ts';

const square = (residue: number, stain: number): WorstUnitArea => ({
  sideMm: 76,
  residueFraction: fraction(residue),
  stainFraction: fraction(stain),
  centreMm: [100, 100],
});

const sharesOf = (zone: Measured, residue: number) =>
  worstSquareShares(
    { residue: zone, fractions: { bare: zone, stain: zone, rust: zone, scale: zone, coating: zone } },
    { residue: square(residue, 0), stain: square(0, residue) },
  );

const widthOf = ({ low, high }: Measured): number => high - low;

describe('intervals of the worst squares', () => {
  it('take residue from the worst residue square and stain from the worst stain square', () => {
    const { residue, stain } = sharesOf(measuredShare(0.05, 0.04, 0.06), 0.2);
    expect([residue.value, stain.value]).toEqual([0.2, 0.2]);
  });

  it('keep the zone’s width where the square holds as much, and grow with sqrt(s (1 - s)) where it holds more', () => {
    const zone = measuredShare(0.1, 0.08, 0.12);
    expect(widthOf(sharesOf(zone, 0.1).residue)).toBeCloseTo(0.04, 2);
    // sqrt(0.5 x 0.5 / (0.1 x 0.9)) = 1.667, by hand.
    expect(widthOf(sharesOf(zone, 0.5).residue)).toBeCloseTo(0.04 * 1.667, 2);
  });

  it('stay inside 0..1, hold their value, and never have no width', () => {
    for (const share of [0, 0.001, 0.5, 1]) {
      const { residue } = sharesOf(measuredShare(0, 0, 0), share);
      expect(residue.low).toBeGreaterThanOrEqual(0);
      expect(residue.high).toBeLessThanOrEqual(1);
      expect(residue.low).toBeLessThanOrEqual(share);
      expect(residue.high).toBeGreaterThanOrEqual(share);
      expect(widthOf(residue)).toBeGreaterThan(0.005);
    }
  });
});
