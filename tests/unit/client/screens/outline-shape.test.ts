import { describe, expect, it } from 'vitest';
import {
  addCorner,
  firstOutline,
  moveCorner,
  outlineBeside,
  removeCorner,
} from '../../../../client/screens/outline/outline-shape.ts';

const photo = { widthPx: 400, heightPx: 300 };

describe('the outline of a zone', () => {
  it('begins well inside the photo', () => {
    for (const [x, y] of firstOutline(photo)) {
      expect(x).toBeGreaterThan(100);
      expect(x).toBeLessThan(300);
      expect(y).toBeGreaterThan(75);
      expect(y).toBeLessThan(225);
    }
  });

  it('begins beside the card, in the largest strip that the card leaves', () => {
    const square = (x: number, y: number): [number, number][] => [
      [x, y],
      [x + 100, y],
      [x + 100, y + 60],
      [x, y + 60],
    ];
    const beside = outlineBeside(square(20, 100), photo);
    expect(Math.min(...beside.map(([x]) => x))).toBeGreaterThan(120);
    expect(Math.max(...beside.map(([x]) => x))).toBeLessThan(400);
    const below = outlineBeside(square(150, 10), photo);
    expect(Math.min(...below.map(([, y]) => y))).toBeGreaterThan(70);
    expect(Math.max(...below.map(([, y]) => y))).toBeLessThan(300);
  });

  it('never leaves the photo', () => {
    expect(moveCorner(firstOutline(photo), 0, [-50, 900], photo)[0]).toEqual([0, 300]);
  });

  it('gets a corner in the middle of its longest edge, and loses that corner again first', () => {
    const four = firstOutline(photo);
    const five = addCorner(four);
    expect(five).toHaveLength(5);
    expect(five[1]).toEqual([200, 90]);
    expect(removeCorner(five)).toEqual(four);
  });

  it('keeps at least three corners and at most eight', () => {
    let corners = firstOutline(photo);
    for (let i = 0; i < 10; i++) corners = addCorner(corners);
    expect(corners).toHaveLength(8);
    for (let i = 0; i < 10; i++) corners = removeCorner(corners);
    expect(corners).toHaveLength(3);
  });
});
