import { describe, expect, it } from 'vitest';
import { correctSurface } from '../../../../server/measure/correction/correct-surface.ts';
import type { CorrectedMaps } from '../../../../server/measure/correction/correct-surface.ts';
import type { ClassMap } from '../../../../server/domain/paint-class-map.ts';

const FLAT = [1, 0, 0, 0, 1, 0, 0, 0, 1];
const map = (width: number, ...codes: number[]): ClassMap => ({
  width,
  height: codes.length / width,
  codes: Uint8Array.from(codes),
});

const unpainted = (after: ClassMap): CorrectedMaps => ({
  before: after,
  after,
  painted: new Uint8Array(after.codes.length),
});

describe('the shares of a corrected map', () => {
  it('count the zone only, and residue is rust, scale and coating', () => {
    const after = map(4, 1, 2, 3, 4, 5, 0, 1, 255);
    expect(correctSurface(unpainted(after), FLAT)).toEqual({
      fractions: { bare: 2 / 6, stain: 1 / 6, rust: 1 / 6, scale: 1 / 6, coating: 1 / 6 },
      residue: 3 / 6,
      unmeasuredFraction: 1 / 7,
      changedFraction: 0,
      paintedFraction: 0,
    });
  });

  it('tell how much of the zone a person changed', () => {
    const corrected = correctSurface(
      { before: map(4, 3, 3, 3, 3), after: map(4, 3, 1, 1, 0), painted: Uint8Array.of(0, 1, 1, 1) },
      FLAT,
    );
    expect(corrected).toMatchObject({ changedFraction: 3 / 4, residue: 1 / 3, unmeasuredFraction: 1 / 4 });
  });

  it('count as spoken for what was painted with the class it had, and what a fill changed', () => {
    const maps = { before: map(4, 3, 3, 1, 255), after: map(4, 1, 3, 1, 255), painted: Uint8Array.of(0, 0, 1, 0) };
    expect(correctSurface(maps, FLAT)).toMatchObject({ changedFraction: 1 / 3, paintedFraction: 2 / 3 });
  });

  it('weigh a pixel by the surface it stands for, far pixels more', () => {
    // Hand-computed: depth w = 1 - 0.2 x at the centres 0.5, 1.5, 2.5 is 0.9, 0.7, 0.5; areas are 1 / w^3.
    const tilted = [1, 0, 0, 0, 1, 0, -0.2, 0, 1];
    const areas = [0.9, 0.7, 0.5].map((depth) => 1 / depth ** 3);
    const after = map(3, 1, 1, 3);
    const rust = areas[2] / (areas[0] + areas[1] + areas[2]);
    expect(correctSurface(unpainted(after), tilted)?.fractions.rust).toBeCloseTo(rust, 12);
  });

  it('do not change when the plane is measured in other units', () => {
    const after = map(3, 1, 2, 3);
    const tilted = [2, 0.1, 5, 0, 3, 1, -0.1, 0.02, 1];
    const inches = tilted.map((element, i) => (i < 6 ? element / 25.4 : element));
    const [mm, other] = [tilted, inches].map((plane) => correctSurface(unpainted(after), plane));
    expect(other).toEqual(mm);
  });

  it('are none where nothing is measured', () => {
    expect(correctSurface({ ...unpainted(map(2, 3, 255)), after: map(2, 0, 255) }, FLAT)).toBeNull();
  });
});
