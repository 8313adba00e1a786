import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { niceLength } from '../../../../client/viewer/nice-length.ts';

describe('niceLength', () => {
  it('takes the steps 1, 2, 5 in every decade', () => {
    expect([0.9, 1, 1.99, 2, 4.9, 5, 9.99, 10, 37].map(niceLength)).toEqual([0.5, 1, 1, 2, 2, 5, 5, 10, 20]);
  });

  it('is never longer than what fits, and never shorter than two fifths of it', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-3, max: 1e6, noNaN: true }), (most) => {
        const length = niceLength(most);
        expect(length).toBeLessThanOrEqual(most * (1 + 1e-6));
        expect(length).toBeGreaterThan(most * 0.3999);
      }),
    );
  });
});
