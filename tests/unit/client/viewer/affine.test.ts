import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { applyAffine, chainAffine, invertAffine, zoomOf } from '../../../../client/viewer/affine.ts';
import type { Affine } from '../../../../client/viewer/affine.ts';

const turn90AndDouble: Affine = [0, 2, -2, 0, 10, 20];

describe('affine maps', () => {
  it('turn, zoom and shift in the order of CSS', () => {
    // By hand: matrix(0, 2, -2, 0, 10, 20) takes (3, 1) to (-2 + 10, 6 + 20).
    expect(applyAffine(turn90AndDouble, [3, 1])).toEqual([8, 26]);
    expect(zoomOf(turn90AndDouble)).toBe(2);
  });

  it('are undone by their inverse', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -99, max: 99, noNaN: true }),
        fc.double({ min: -99, max: 99, noNaN: true }),
        (x, y) => {
          const [bx, by] = applyAffine(chainAffine(turn90AndDouble, invertAffine(turn90AndDouble)), [x, y]);
          expect(Math.hypot(bx - x, by - y)).toBeLessThan(1e-9);
        },
      ),
    );
  });

  it('have no inverse when they fold the plane', () => {
    expect(() => invertAffine([1, 2, 2, 4, 0, 0])).toThrow(RangeError);
  });
});
