import { describe, expect, it } from 'vitest';
import { surfaceSchema } from '../../../../server/domain/index.ts';
import type { Surface } from '../../../../server/domain/index.ts';
import { byteMask } from '../../../../server/measure/raster/plane.ts';
import { NO_NOISE } from '../../../../server/measure/residue/card-noise.ts';
import { measureSurface } from '../../../../server/measure/residue/measure-surface.ts';
import type { Segmentation } from '../../../../server/measure/segmentation/segmentation.ts';
import type { SurfaceView } from '../../../../server/measure/view-surface.ts';
import { plainView } from '../../../support/plain-view.ts';

const SIDE = 100;
const NOISE = { lightnessSigma: 1, noiseAt: () => NO_NOISE };

interface Told {
  /** Code of each pixel. */
  readonly code: (column: number, row: number) => number;
  /** Probability of that code; the next class in turn has the rest. */
  readonly sureness?: number;
  readonly sigma?: number;
}

function segmentationOf({ code, sureness = 1, sigma = 0.005 }: Told): Segmentation {
  const codes = byteMask(SIDE, SIDE);
  const layer = (): Uint8Array => new Uint8Array(SIDE * SIDE);
  const probabilities = [layer(), layer(), layer(), layer(), layer()] as const;
  for (let i = 0; i < codes.values.length; i++) {
    const c = code(i % SIDE, Math.floor(i / SIDE));
    codes.values[i] = c;
    if (c === 0) continue;
    probabilities[c - 1][i] = Math.round(255 * sureness);
    probabilities[c % 5][i] += 255 - Math.round(255 * sureness);
  }
  return {
    segmenter: 'by hand',
    codes,
    probabilities,
    blocked: byteMask(SIDE, SIDE),
    doubtful: null,
    underDwell: null,
    shareSigma: { bare: sigma, stain: sigma, rust: sigma, scale: sigma, coating: sigma, residue: sigma },
  };
}
const view = (stepMm: number | null = 1): SurfaceView =>
  plainView({ width: SIDE, height: SIDE, stepMm }, () => [60, 0, 2]);
const surfaceOf = (told: Told, on = view()): Surface => measureSurface(on, segmentationOf(told), NOISE).surface;

/** Of a hundred columns 50 are bare, 20 stained, 15 rusted, 10 scaled, 5 coated. */
const striped = (column: number): number => (column < 50 ? 1 : column < 70 ? 2 : column < 85 ? 3 : column < 95 ? 4 : 5);
const width = ({ low, high }: { low: number; high: number }): number => high - low;

describe('measuring a segmented zone', () => {
  it('counts shares, and adds rust, scale and coating up to residue', () => {
    const surface = surfaceOf({ code: striped });
    const values = Object.values(surface.fractions).map(({ value }) => value);
    [0.5, 0.2, 0.15, 0.1, 0.05].forEach((share, k) => {
      expect(values[k]).toBeCloseTo(share, 12);
    });
    expect(surface.residue.value).toBeCloseTo(0.3, 12);
    expect(surface.unmeasuredFraction).toBe(0);
    expect(surfaceSchema.parse(surface)).toEqual(surface);
  });

  it('states shares of the measured part, and how much was not measured', () => {
    const surface = surfaceOf({ code: (column, row) => (row < 25 ? 0 : striped(column)) });
    expect(surface.residue.value).toBeCloseTo(0.3, 12);
    expect(surface.unmeasuredFraction).toBeCloseTo(0.25, 12);
  });

  it('does not count what lies out of the zone', () => {
    const on = view();
    for (let i = 0; i < on.zone.values.length; i++) if (i % SIDE >= 85) on.zone.values[i] = 0;
    const told: Told = { code: (column) => (column < 85 ? striped(column) : 0) };
    const surface = surfaceOf(told, on);
    expect(surface.residue.value).toBeCloseTo(15 / 85, 12);
    expect(surface.unmeasuredFraction).toBe(0);
  });

  it('has intervals that grow with the segmenter’s own error', () => {
    const [small, large] = [0.005, 0.02].map((sigma) => surfaceOf({ code: striped, sigma }).residue);
    expect(width(small)).toBeGreaterThan(2 * 1.9 * 0.005);
    expect(width(large) / width(small)).toBeGreaterThan(3);
  });

  it('has intervals that grow with doubt about single spots', () => {
    const sure = surfaceOf({ code: striped }).fractions.rust;
    const unsure = surfaceOf({ code: striped, sureness: 0.6 }).fractions.rust;
    expect(unsure.value).toBe(sure.value);
    expect(width(unsure)).toBeGreaterThan(1.3 * width(sure));
  });

  it('gains from a larger zone only what independent spots give: shared error stays', () => {
    const doubt: Told = { code: striped, sureness: 0.6, sigma: 0.01 };
    const [small, large] = [surfaceOf(doubt, view(0.25)).residue, surfaceOf(doubt, view(4)).residue];
    expect(width(large)).toBeLessThan(width(small));
    expect(width(large)).toBeGreaterThan(2 * 1.9 * 0.01);
  });

  it('has a worst square where one fits, and neither it nor texture without millimetres', () => {
    expect(surfaceOf({ code: striped }).worstUnitArea?.residueFraction).toBeGreaterThan(0.35);
    expect(surfaceOf({ code: striped }, view(0.5)).worstUnitArea).toBeNull();
    const flat = surfaceOf({ code: striped }, view(null));
    expect(flat.worstUnitArea).toBeNull();
    expect(flat.appearance.textureContrast).toBeNull();
  });

  it('says which part the cross-check reads differently, and nothing where there was none', () => {
    expect(surfaceOf({ code: striped })).not.toHaveProperty('doubtfulFraction');
    const doubtful = byteMask(SIDE, SIDE);
    doubtful.values.fill(1, 0, 700);
    const told = { ...segmentationOf({ code: striped }), doubtful };
    expect(measureSurface(view(), told, NOISE).surface.doubtfulFraction).toBeCloseTo(0.07, 12);
  });

  it('reads a spotless zone as such and still doubts it', () => {
    const { residue, fractions } = surfaceOf({ code: () => 1 });
    expect(residue).toMatchObject({ value: 0, low: 0 });
    expect(residue.high).toBeGreaterThan(0.002);
    expect(fractions.bare.value).toBe(1);
  });
});
