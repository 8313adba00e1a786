import { describe, expect, it } from 'vitest';
import { CLASS_CODE } from '../../../../server/domain/index.ts';
import { byteMask } from '../../../../server/measure/raster/plane.ts';
import type { ByteMask } from '../../../../server/measure/raster/plane.ts';
import { plainSteel } from '../../../../server/measure/residue/plain-steel.ts';
import { spreadWindows } from '../../../../server/measure/residue/spread-windows.ts';
import type { LabAt } from '../../../support/plain-view.ts';
import { labOf } from '../../../support/plain-view.ts';
import { seededNormal, seededRandom } from '../../../support/seeded-random.ts';

const SIDE = 160;
const STEP_MM = 0.25;

function filled(value: number, side = SIDE): ByteMask {
  const mask = byteMask(side, side);
  mask.values.fill(value);
  return mask;
}
const grain = (seed: number): LabAt => {
  const random = seededRandom(seed);
  return () => [60 + seededNormal(random), 0, 1];
};
const countOf = ({ values }: ByteMask): number => values.reduce((sum, v) => sum + v, 0);

describe('where steel itself is seen', () => {
  it('is nearly all of a clean surface, up to the outline of the zone', () => {
    const mask = plainSteel({ lab: labOf(SIDE, SIDE, grain(1)), codes: filled(1), zone: filled(1), stepMm: STEP_MM });
    expect(mask === null ? 0 : countOf(mask)).toBeGreaterThan(0.97 * SIDE * SIDE);
    expect(mask?.values[0]).toBe(1);
  });

  it('keeps 2 mm away from residue where there is room', () => {
    const codes = filled(CLASS_CODE.bare);
    for (let row = 70; row < 90; row++) codes.values.fill(CLASS_CODE.rust, row * SIDE + 70, row * SIDE + 90);
    const mask = plainSteel({ lab: labOf(SIDE, SIDE, grain(2)), codes, zone: filled(1), stepMm: STEP_MM });
    expect(mask?.values[80 * SIDE + 69]).toBe(0);
    expect(mask?.values[80 * SIDE + 62]).toBe(0);
    expect(countOf(mask ?? filled(0))).toBeGreaterThan(0.9 * (SIDE * SIDE - 36 * 36));
  });

  it('goes nearer where residue leaves little room', () => {
    const codes = filled(CLASS_CODE.rust);
    for (let row = 0; row < SIDE; row++) {
      for (let column = 0; column < SIDE; column++) if (column % 16 < 12) codes.values[row * SIDE + column] = 1;
    }
    const mask = plainSteel({ lab: labOf(SIDE, SIDE, grain(3)), codes, zone: filled(1), stepMm: STEP_MM });
    expect(mask?.values[80 * SIDE + 5]).toBe(1);
    expect(mask?.values[80 * SIDE + 11]).toBe(0);
  });

  it('leaves out specks that are called bare, with what lies beside them', () => {
    const fine = grain(4);
    const at: LabAt = (column, row) => (column % 40 === 20 && row % 40 === 20 ? [35, 12, 15] : fine(column, row));
    const mask = plainSteel({ lab: labOf(SIDE, SIDE, at), codes: filled(1), zone: filled(1), stepMm: STEP_MM });
    expect(mask?.values[20 * SIDE + 20]).toBe(0);
    expect(mask?.values[60 * SIDE + 62]).toBe(0);
    expect(mask?.values[60 * SIDE + 70]).toBe(1);
  });

  it('takes a rougher part for rough, not for specks', () => {
    // Parts are 12 mm, 48 px.
    const random = seededRandom(5);
    const at: LabAt = (column) => [60 + (column < 96 ? 0.4 : 2.4) * seededNormal(random), 0, 1];
    const mask = plainSteel({ lab: labOf(SIDE, SIDE, at), codes: filled(1), zone: filled(1), stepMm: STEP_MM });
    let rough = 0;
    for (let i = 0; i < SIDE * SIDE; i++) if (i % SIDE >= 96) rough += mask?.values[i] ?? 0;
    expect(rough / (SIDE * (SIDE - 96))).toBeGreaterThan(0.85);
  });

  it('is nowhere where nothing is bare', () => {
    const codes = filled(CLASS_CODE.scale);
    expect(plainSteel({ lab: labOf(SIDE, SIDE, grain(6)), codes, zone: filled(1), stepMm: STEP_MM })).toBeNull();
  });
});

describe('windows of a large surface', () => {
  it('leave a small one as it is', () => {
    const surface = { lab: labOf(SIDE, SIDE, grain(7)), codes: filled(1), zone: filled(1), stepMm: STEP_MM };
    expect(spreadWindows(surface)).toBe(surface);
  });

  it('hold what the surface holds, with gaps that are no part of the zone', () => {
    const side = 1000;
    const lab = labOf(side, side, (column, row) => [column / 10, row / 10, 0]);
    const {
      codes,
      lab: windowed,
      zone,
    } = spreadWindows({ lab, codes: filled(1, side), zone: filled(1, side), stepMm: 0.25 });
    expect(codes.width).toBe(128);
    expect(countOf(zone)).toBe(12 * 128 * 128);
    // Each window goes on evenly inside, whatever its place.
    expect(windowed.L.values[5 * 128 + 60] - windowed.L.values[5 * 128 + 50]).toBeCloseTo(1, 3);
    expect(windowed.a.values[60 * 128 + 7] - windowed.a.values[50 * 128 + 7]).toBeCloseTo(1, 3);
    expect(zone.values[130 * 128]).toBe(0);
  });
});
