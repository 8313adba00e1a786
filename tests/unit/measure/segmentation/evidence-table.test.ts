import { describe, expect, it } from 'vitest';
import { evidenceTable, nearestNode, refineTable } from '../../../../server/measure/segmentation/evidence-table.ts';
import type { EvidenceTable } from '../../../../server/measure/segmentation/evidence-table.ts';

/** A table of two axes whose evidence for class c is c times (10 x + y): linear, so that interpolation is exact. */
const linear: EvidenceTable = {
  axes: [
    { low: 0, high: 2, nodes: 3 },
    { low: 0, high: 3, nodes: 4 },
  ],
  values: Float32Array.from({ length: 3 * 4 * 5 }, (_, i) => {
    const cell = Math.floor(i / 5);
    return (i % 5) * (10 * Math.floor(cell / 4) + (cell % 4));
  }),
};

describe('tables of evidence', () => {
  it('are read from signed bytes times their unit', () => {
    // Bytes 1, -1, 127, -128, 0.
    const table = evidenceTable([{ low: 0, high: 1, nodes: 1 }], 'Af9/gAA=', 0.5);
    expect([...table.values]).toEqual([0.5, -0.5, 63.5, -64, 0]);
    expect(() => evidenceTable([{ low: 0, high: 1, nodes: 2 }], 'Af9/gAA=', 0.5)).toThrow(RangeError);
  });

  it('are refined by straight interpolation', () => {
    const fine = refineTable(linear, [5, 7]);
    expect(fine.axes.map(({ nodes }) => nodes)).toEqual([5, 7]);
    for (let x = 0; x < 5; x++) {
      for (let y = 0; y < 7; y++) {
        for (let c = 0; c < 5; c++) {
          expect(fine.values[(x * 7 + y) * 5 + c]).toBeCloseTo(c * (10 * (x / 2) + y / 2), 4);
        }
      }
    }
  });

  it('are read at the nearest node, and at the ends beyond them', () => {
    const axis = { low: -10, high: 10, nodes: 5 };
    expect([-99, -10, -7.6, -7.4, 0, 2.4, 2.6, 10, 99].map((value) => nearestNode(axis, value))).toEqual([
      0, 0, 0, 1, 2, 2, 3, 4, 4,
    ]);
    expect(nearestNode(axis, NaN)).toBe(0);
  });
});
