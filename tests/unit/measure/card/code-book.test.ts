import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MARKER_CORNERS } from '../../../../server/domain/index.ts';
import {
  CODE_BOOK_DISTANCE,
  CODE_BOOK_EDITIONS,
  CORRECTABLE_BIT_ERRORS,
  TRUSTED_BIT_ERRORS,
  cornerPayload,
  matchPayload,
} from '../../../../server/measure/card/code-book.ts';
import { CODE_BOOK_RULES, generateCodeBook } from '../../../../server/measure/card/generate-code-book.ts';
import { orientationsOf } from '../../../../server/measure/card/payload-word.ts';

type Cells = readonly number[];

/** Read here independently of the packed words that the program works with. */
const cellsOf = (rows: readonly string[]): number[] => Array.from(rows.join(''), Number);
const distance = (first: Cells, second: Cells): number => first.filter((cell, index) => cell !== second[index]).length;
const turnClockwise = (cells: Cells): number[] =>
  cells.map((_cell, index) => cells[5 * (4 - (index % 5)) + Math.floor(index / 5)]);
function transitions(cells: Cells): number {
  let count = 0;
  cells.forEach((cell, index) => {
    if (index % 5 < 4 && cells[index + 1] !== cell) count++;
    if (index < 20 && cells[index + 5] !== cell) count++;
  });
  return count;
}
function turned(cells: Cells, quarterTurns: number): Cells {
  return Array.from({ length: quarterTurns }).reduce<Cells>((seen) => turnClockwise(seen), cells);
}

const BOOK = Array.from({ length: CODE_BOOK_EDITIONS }, (_row, edition) =>
  MARKER_CORNERS.map((corner) => ({ edition, corner, cells: cellsOf(cornerPayload(edition, corner)) })),
).flat();
const anyCode = fc.constantFrom(...BOOK);
const anyTurn = fc.constantFrom(0, 1, 2, 3);
const wrongCells = (most: number): fc.Arbitrary<number[]> =>
  fc.uniqueArray(fc.nat(24), { maxLength: most, minLength: most });

describe('the code book', () => {
  it('is the one that the seeded search yields', () => {
    const made = generateCodeBook(CODE_BOOK_RULES).map((word) => word.toString(2).padStart(25, '0'));
    expect(BOOK.map(({ cells }) => cells.join(''))).toEqual(made);
  });

  it('has 32 codes, each at least 9 cells away from every other in all four orientations', () => {
    expect(BOOK).toHaveLength(32);
    let least = 25;
    BOOK.forEach((first, index) => {
      for (const second of BOOK.slice(index + 1)) {
        for (const turn of [0, 1, 2, 3]) least = Math.min(least, distance(first.cells, turned(second.cells, turn)));
      }
    });
    expect(least).toBe(CODE_BOOK_DISTANCE);
  });

  it('has no code that comes near itself when turned', () => {
    for (const { cells } of BOOK) {
      for (const turn of [1, 2, 3]) {
        expect(distance(cells, turned(cells, turn))).toBeGreaterThanOrEqual(CODE_BOOK_DISTANCE);
      }
    }
  });

  it('has no code that looks like a blot, a shadow or a weave', () => {
    for (const { cells } of BOOK) {
      const white = cells.filter((cell) => cell === 1).length;
      expect(white).toBeGreaterThanOrEqual(9);
      expect(white).toBeLessThanOrEqual(16);
      expect(transitions(cells)).toBeGreaterThanOrEqual(18);
      expect(transitions(cells)).toBeLessThanOrEqual(28);
    }
  });

  it('comes back to itself after four quarter turns', () => {
    for (const word of generateCodeBook({ ...CODE_BOOK_RULES, codes: 4 })) {
      const last = orientationsOf(word)[3];
      expect(orientationsOf(last)[1]).toBe(word);
    }
  });

  it('stays short when the rules leave no room', () => {
    const rules = { ...CODE_BOOK_RULES, codes: 5, whiteCells: [24, 25] as const, transitions: [0, 40] as const };
    expect(generateCodeBook(rules)).toEqual([]);
  });

  it('refuses an edition that is not in it', () => {
    expect(() => cornerPayload(8, 'topLeft')).toThrow(RangeError);
    expect(() => cornerPayload(-1, 'topLeft')).toThrow(RangeError);
  });
});

describe('matching a payload', () => {
  it('tells edition, corner and quarter turns of a marker read in any orientation', () => {
    fc.assert(
      fc.property(anyCode, anyTurn, ({ edition, corner, cells }, quarterTurns) => {
        const seen = Uint8Array.from(turned(cells, quarterTurns));
        expect(matchPayload(seen)).toEqual({ edition, corner, quarterTurns, bitErrors: 0 });
      }),
      { seed: 51 },
    );
  });

  it.each([1, 2, 3, 4])('forgives %i wrong cells when that many are allowed', (errors) => {
    fc.assert(
      fc.property(anyCode, anyTurn, wrongCells(errors), ({ edition, corner, cells }, quarterTurns, wrong) => {
        const seen = Uint8Array.from(turned(cells, quarterTurns));
        for (const index of wrong) seen[index] = 1 - seen[index];
        expect(matchPayload(seen, CORRECTABLE_BIT_ERRORS)).toEqual({
          edition,
          corner,
          quarterTurns,
          bitErrors: errors,
        });
        expect(matchPayload(seen) === null).toBe(errors > TRUSTED_BIT_ERRORS);
      }),
      { seed: 52 },
    );
  });

  it('finds nothing in blank, full, striped or checked squares', () => {
    const patterns: ((index: number) => number)[] = [
      () => 0,
      () => 1,
      (index) => index % 2,
      (index) => Math.floor(index / 5) % 2,
      (index) => (index % 5) % 2,
      (index) => (index % 5 < 2 ? 1 : 0),
    ];
    for (const pattern of patterns) {
      expect(matchPayload(Uint8Array.from({ length: 25 }, (_cell, index) => pattern(index)))).toBeNull();
    }
  });

  it('mistakes about one random payload in 820 for a marker, as its tolerance implies', () => {
    // 128 oriented codes x (1 + 25 + 300) payloads within 2 cells, of 2^25: 0.124 %. Counted over a fixed sequence.
    let state = 1;
    let taken = 0;
    const tries = 100_000;
    for (let index = 0; index < tries; index++) {
      state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
      const word = state >>> 7;
      if (matchPayload(Uint8Array.from({ length: 25 }, (_cell, bit) => (word >> bit) & 1)) !== null) taken++;
    }
    expect(taken / tries).toBeGreaterThan(0.0009);
    expect(taken / tries).toBeLessThan(0.0016);
  });

  it('refuses a payload of another size and a tolerance beyond what the distance allows', () => {
    expect(() => matchPayload(new Uint8Array(24))).toThrow(RangeError);
    expect(() => matchPayload(new Uint8Array(25), CORRECTABLE_BIT_ERRORS + 1)).toThrow(RangeError);
  });
});
