import type { ShopComparison } from '@domain/api/comparisons.ts';

type Pair = ShopComparison['pairs'][number];

/** The side that the pairs call better in this respect, or null where the difference is not real. */
export function betterOf({ a, b, residue, texture }: Pair, respect: 'residue' | 'texture'): string | null {
  const called = respect === 'residue' ? residue : texture;
  if (called === 'no real difference') return null;
  return called.startsWith('a ') ? a : b;
}

/** The side that is better than every other one; null when there is no such side. */
export function bestOf(pairs: readonly Pair[], respect: 'residue' | 'texture'): string | null {
  const names = [...new Set(pairs.flatMap(({ a, b }) => [a, b]))];
  const isBest = (name: string): boolean =>
    pairs.filter(({ a, b }) => a === name || b === name).every((pair) => betterOf(pair, respect) === name);
  return names.find(isBest) ?? null;
}

export const realCount = (pairs: readonly Pair[], respect: 'residue' | 'texture'): number =>
  pairs.filter((pair) => betterOf(pair, respect) !== null).length;
