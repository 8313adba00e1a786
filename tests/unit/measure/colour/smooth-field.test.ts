import { describe, expect, it } from 'vitest';
import {
  FIELD_NODES,
  FIELD_PAIRS,
  eachFieldNode,
  fieldAt,
  fieldBox,
} from '../../../../server/measure/colour/smooth-field.ts';

const box = fieldBox([
  [2, 1],
  [150, 60],
  [80, 101],
]);
/** Nodes that hold a function of the place. */
function fieldOf(f: (x: number, y: number) => number): Parameters<typeof fieldAt>[0] {
  const nodes = Float64Array.from({ length: FIELD_NODES }, (_, k) =>
    f(2 + ((k % 7) * 148) / 6, 1 + (Math.floor(k / 7) * 100) / 4),
  );
  return { box, nodes };
}

describe('light that varies over the card', () => {
  it('reaches over the places where greys are', () => {
    expect(box).toEqual({ x: 2, y: 1, width: 148, height: 100 });
  });

  it('is exact for what is bilinear', () => {
    const field = fieldOf((x, y) => 0.3 + 0.002 * x - 0.004 * y);
    for (const [x, y] of [
      [2, 1],
      [150, 101],
      [77.3, 44.4],
      [20, 99],
    ] as const) {
      expect(fieldAt(field, [x, y])).toBeCloseTo(0.3 + 0.002 * x - 0.004 * y, 12);
    }
  });

  it('goes on as at the rim beyond it', () => {
    const field = fieldOf((x, y) => x * y);
    expect(fieldAt(field, [-300, 51])).toBeCloseTo(fieldAt(field, [2, 51]), 12);
    expect(fieldAt(field, [400, 900])).toBeCloseTo(fieldAt(field, [150, 101]), 12);
  });

  it('shares a place among nodes in parts that add up to one', () => {
    let sum = 0;
    eachFieldNode(box, [33, 71], (_, weight) => {
      expect(weight).toBeGreaterThanOrEqual(0);
      sum += weight;
    });
    expect(sum).toBeCloseTo(1, 12);
  });

  it('joins every node with its right and lower neighbour once', () => {
    expect(FIELD_PAIRS).toHaveLength(6 * 5 + 7 * 4);
    expect(new Set(FIELD_PAIRS.map((pair) => pair.join())).size).toBe(FIELD_PAIRS.length);
    expect(FIELD_PAIRS.every(([a, b]) => b - a === 7 || (b - a === 1 && b % 7 !== 0))).toBe(true);
  });
});
