import { describe, expect, it } from 'vitest';
import { textPath, textWidth } from '../../../../server/adapters/report/letter-shapes.ts';
import type { TextPlacement } from '../../../../server/adapters/report/letter-shapes.ts';

const place: TextPlacement = { x: 0, y: 0, sizeMm: 10, weight: 'regular', anchor: 'start' };
const numbersOf = (path: string): number[] => (path.match(/-?\d+(?:\.\d+)?/g) ?? []).map(Number);

function bounds(path: string): { left: number; right: number; top: number; bottom: number } {
  const numbers = numbersOf(path);
  const xs = numbers.filter((_value, index) => index % 2 === 0);
  const ys = numbers.filter((_value, index) => index % 2 === 1);
  return { left: Math.min(...xs), right: Math.max(...xs), top: Math.min(...ys), bottom: Math.max(...ys) };
}

describe('letters as shapes', () => {
  it('stand on the baseline, capitals 0.7 em tall as the typeface has them', () => {
    const { left, right, top, bottom } = bounds(textPath('H', place));
    expect(top).toBeCloseTo(-7, 3);
    expect(bottom).toBeCloseTo(0, 3);
    expect(left).toBeGreaterThan(0);
    expect(right).toBeLessThan(textWidth('H', place));
  });

  it('hold only numbers and path commands, for every printable character and any size', () => {
    const text = Array.from({ length: 95 }, (_char, index) => String.fromCharCode(32 + index)).join('') + '°µ²·–ΔäÖé%½';
    for (const sizeMm of [0.001, 1.5, 2, 3.6, 11.811, 170]) {
      for (const x of [0, 1e-9, 28.2, 1234.5678]) {
        expect(textPath(text, { ...place, x, y: 92.5, sizeMm })).toMatch(/^[MLQCZ \-.0-9]+$/);
      }
    }
  });

  it('end or stand centred where they are told', () => {
    const width = textWidth('edition 0', place);
    const start = bounds(textPath('edition 0', { ...place, x: 50 }));
    const middle = bounds(textPath('edition 0', { ...place, x: 50, anchor: 'middle' }));
    const end = bounds(textPath('edition 0', { ...place, x: 50, anchor: 'end' }));
    expect(start.left - middle.left).toBeCloseTo(width / 2, 3);
    expect(start.left - end.left).toBeCloseTo(width, 3);
  });

  it('grow with the size and shift with the place', () => {
    const small = numbersOf(textPath('Teasel', place));
    const large = numbersOf(textPath('Teasel', { ...place, x: 3, y: -2, sizeMm: 20 }));
    expect(large).toHaveLength(small.length);
    large.forEach((value, index) => {
      expect(value).toBeCloseTo(2 * small[index] + (index % 2 === 0 ? 3 : -2), 2);
    });
    expect(textWidth('Teasel', { ...place, sizeMm: 20 })).toBeCloseTo(2 * textWidth('Teasel', place), 9);
  });

  it('are kerned', () => {
    expect(textWidth('AV', place)).toBeLessThan(textWidth('A', place) + textWidth('V', place));
  });

  it('are wider in a bolder weight', () => {
    expect(textWidth('laser', { ...place, weight: 'bold' })).toBeGreaterThan(textWidth('laser', place));
  });

  it('are nothing for no text', () => {
    expect(textPath('', place)).toBe('');
    expect(textWidth('', place)).toBe(0);
  });
});
