import { describe, expect, it } from 'vitest';
import { paintClassPixels } from '../../../../client/viewer/paint-class-pixels.ts';
import { CLASS_LOOKS, MARKED_CLASSES } from '../../../../client/viewer/class-look.ts';
import type { MarkedClass } from '../../../../client/viewer/class-look.ts';
import type { Affine } from '../../../../client/viewer/affine.ts';

const SAME: Affine = [1, 0, 0, 1, 0, 0];
const ALL: ReadonlySet<MarkedClass> = new Set(MARKED_CLASSES);
/** 40 x 40: bare, with a square of one class from 10 to 30. */
const mapWith = (code: number): { width: number; height: number; codes: Uint8Array } => {
  const codes = new Uint8Array(1600).fill(1);
  for (let y = 10; y < 30; y++) codes.fill(code, y * 40 + 10, y * 40 + 30);
  return { width: 40, height: 40, codes };
};
const paint = (code: number, shown = ALL, toMap = SAME): Uint8ClampedArray =>
  paintClassPixels(mapWith(code), { widthPx: 40, heightPx: 40, toMap, shown, unitPx: 9 });
const inkedIn = (pixels: Uint8ClampedArray, from: number, to: number): number => {
  let count = 0;
  for (let y = from; y < to; y++) for (let x = from; x < to; x++) if (pixels[4 * (y * 40 + x) + 3] > 0) count++;
  return count;
};

describe('paintClassPixels', () => {
  it('leaves bare steel clear and inks every other class', () => {
    for (const code of [0, 2, 3, 4, 5]) {
      const pixels = paint(code);
      expect(inkedIn(pixels, 0, 40)).toBe(inkedIn(pixels, 10, 30));
      expect(inkedIn(pixels, 12, 28)).toBeGreaterThan(20);
      expect(inkedIn(pixels, 12, 28)).toBeLessThan(240);
    }
  });

  it('gives every class a pattern of its own, so that colour is not needed', () => {
    const patterns = MARKED_CLASSES.map((marked) =>
      Array.from({ length: 324 }, (_, i) => CLASS_LOOKS[marked].isInked(i % 18, Math.floor(i / 18), 9)).join(),
    );
    expect(new Set(patterns).size).toBe(MARKED_CLASSES.length);
  });

  it('draws a darker rim round a class', () => {
    const pixels = paint(3);
    const [red] = CLASS_LOOKS.rust.colour;
    expect(pixels[4 * (10 * 40 + 15)]).toBe(Math.round(red * 0.45));
  });

  it('shows only the classes that are switched on', () => {
    expect(inkedIn(paint(3, new Set<MarkedClass>(['scale'])), 0, 40)).toBe(0);
    expect(inkedIn(paint(3, new Set<MarkedClass>(['rust'])), 0, 40)).toBeGreaterThan(0);
  });

  it('moves with the photo and stays clear beside it', () => {
    const moved = paint(4, ALL, [1, 0, 0, 1, 20, 20]);
    expect(inkedIn(moved, 0, 10)).toBeGreaterThan(0);
    expect(inkedIn(moved, 10, 40)).toBe(0);
  });

  it('leaves what lies outside the zone clear', () => {
    expect(inkedIn(paint(255), 0, 40)).toBe(0);
  });
});
