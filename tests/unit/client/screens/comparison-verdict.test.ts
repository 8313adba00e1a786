import { describe, expect, it } from 'vitest';
import { bestOf, betterOf, realCount } from '../../../../client/screens/compare/comparison-verdict.ts';
import { firstPatches, nextPatch } from '../../../../client/screens/compare/patch-layout.ts';

const pair = (a: string, b: string, residue: 'a cleaner' | 'b cleaner' | 'no real difference') => ({
  a,
  b,
  residue,
  texture: 'no real difference' as const,
  because: 'as measured',
});

describe('the verdict of a comparison', () => {
  it('names who beats every other side', () => {
    const pairs = [pair('A', 'B', 'b cleaner'), pair('A', 'C', 'no real difference'), pair('B', 'C', 'a cleaner')];
    expect(bestOf(pairs, 'residue')).toBe('B');
    expect(bestOf(pairs, 'texture')).toBeNull();
    expect(betterOf(pairs[0], 'residue')).toBe('B');
    expect([realCount(pairs, 'residue'), realCount(pairs, 'texture')]).toEqual([2, 0]);
  });

  it('names nobody where one difference is not real', () => {
    const pairs = [pair('A', 'B', 'a cleaner'), pair('A', 'C', 'no real difference'), pair('B', 'C', 'b cleaner')];
    expect(bestOf(pairs, 'residue')).toBeNull();
  });
});

describe('the patches of a photo', () => {
  const photo = { widthPx: 1000, heightPx: 600 };

  it('begin as two apart from each other, inside the photo', () => {
    const [first, second] = firstPatches(photo);
    expect([first.name, second.name]).toEqual(['A', 'B']);
    expect(Math.max(...first.corners.map(([x]) => x))).toBeLessThan(Math.min(...second.corners.map(([x]) => x)));
  });

  it('stay inside the photo up to the sixth, and take the first free letter', () => {
    let patches = firstPatches(photo);
    while (patches.length < 6) patches = [...patches, nextPatch(patches, photo)];
    expect(patches.map(({ name }) => name).join('')).toBe('ABCDEF');
    expect(Math.max(...patches.flatMap(({ corners }) => corners.map(([x]) => x)))).toBeLessThan(1000);
    expect(nextPatch(patches.toSpliced(1, 1), photo).name).toBe('B');
  });
});
