import { describe, expect, it } from 'vitest';
import { byteMask } from '../../../../server/measure/raster/plane.ts';
import type { SurfaceGrid } from '../../../../server/measure/geometry/surface-grid.ts';
import { colourFeatures } from '../../../../server/measure/segmentation/colour-features.ts';
import type { ColourFeatures } from '../../../../server/measure/segmentation/colour-features.ts';
import type { LabAt } from '../../../support/plain-view.ts';
import { labOf } from '../../../support/plain-view.ts';
import { seededNormal, seededRandom } from '../../../support/seeded-random.ts';

const SIDE = 80;
const grid: SurfaceGrid = { unit: 'mm', width: SIDE, height: SIDE, step: 0.25, origin: [0, 0], angle: 0 };
const all = byteMask(SIDE, SIDE);
all.values.fill(1);
const featuresOf = (at: LabAt, mask = all, on = grid): ColourFeatures =>
  colourFeatures(labOf(SIDE, SIDE, at), mask, on);
const middle = ({ aroundL }: ColourFeatures): number =>
  Math.floor(aroundL.height / 2) * aroundL.width + Math.floor(aroundL.width / 2);

describe('what the colour segmenter looks at', () => {
  it('is the colour alone on a level surface: no grain, no mottling', () => {
    const features = featuresOf(() => [55, 4, 9]);
    const at = middle(features);
    expect(features.block).toBe(4);
    expect([features.aroundL.values[at], features.aroundA.values[at], features.aroundB.values[at]]).toEqual([55, 4, 9]);
    expect(features.grain.values[at]).toBeCloseTo(0, 1);
    expect(features.mottleLightness.values[at]).toBeCloseTo(0, 3);
    expect(features.L.values[SIDE + 1]).toBeCloseTo(55, 4);
  });

  it('has fine noise as grain: its standard deviation', () => {
    const random = seededRandom(1);
    const features = featuresOf(() => [50 + 2 * seededNormal(random), 0, 0]);
    const mean = features.grain.values.reduce((sum, v) => sum + v, 0) / features.grain.values.length;
    // The mean of 16 pixels takes a sixteenth of the variance with it.
    expect(mean / (2 * Math.sqrt(15 / 16))).toBeCloseTo(1, 1);
  });

  it('has patches of 3 mm as mottling and not as grain', () => {
    const checks = featuresOf((column, row) =>
      (Math.floor(column / 12) + Math.floor(row / 12)) % 2 === 0 ? [45, 0, 0] : [55, 6, 0],
    );
    const at = middle(checks);
    expect(checks.mottleLightness.values[at]).toBeGreaterThan(4);
    expect(checks.mottleLightness.values[at]).toBeLessThan(6);
    expect(checks.mottleChroma.values[at]).toBeGreaterThan(2.4);
    expect(checks.grain.values[at]).toBeLessThan(0.5);
  });

  it('is of counted pixels alone', () => {
    const mask = byteMask(SIDE, SIDE);
    for (let i = 0; i < mask.values.length; i++) mask.values[i] = i % SIDE < 40 ? 1 : 0;
    const features = featuresOf((column) => (column < 40 ? [60, 0, 2] : [10, 50, 50]), mask);
    expect(features.L.values[40 * SIDE + 39]).toBeCloseTo(60, 4);
    expect(features.aroundL.values[10 * features.aroundL.width + 9]).toBeCloseTo(60, 4);
    expect(features.mottleChroma.values[10 * features.aroundL.width + 9]).toBeCloseTo(0, 3);
  });

  it('takes blocks of about 1 mm, whatever the step', () => {
    expect(featuresOf(() => [50, 0, 0], all, { ...grid, step: 0.5 }).block).toBe(2);
    expect(featuresOf(() => [50, 0, 0], all, { ...grid, step: 1 }).block).toBe(2);
    expect(featuresOf(() => [50, 0, 0], all, { ...grid, step: 0.1 }).block).toBe(10);
    expect(featuresOf(() => [50, 0, 0], all, { ...grid, unit: 'px', step: 1, statedMmPerPixel: 0.25 }).block).toBe(4);
  });
});
