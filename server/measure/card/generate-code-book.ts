import { PAYLOAD_BITS, countBits, countTransitions, hammingDistance, orientationsOf } from './payload-word.ts';

export interface CodeBookRules {
  readonly seed: number;
  readonly codes: number;
  /** Least Hamming distance between any two codes in any two orientations, and of a code from its own quarter turns. */
  readonly leastDistance: number;
  /** Pairs of neighbouring cells that differ, of 40: fewer look like shadows or blots, more like a weave or a rasp. */
  readonly transitions: readonly [least: number, most: number];
  /** White cells, of 25. */
  readonly whiteCells: readonly [least: number, most: number];
}

/** The rules of the printed book; the seed is the first from 1 up that yields a full book. */
export const CODE_BOOK_RULES: CodeBookRules = {
  seed: 1,
  codes: 32,
  leastDistance: 9,
  transitions: [18, 28],
  whiteCells: [9, 16],
};

const WORDS = 2 ** PAYLOAD_BITS;

/**
 * Collects codes greedily: walks once through all 2^25 payloads in a fixed scattered order given by the seed and takes
 * each that keeps its distance from all orientations of those taken before. Same rules, same codes.
 * @returns as many codes as were found, at most `rules.codes`
 */
export function generateCodeBook(rules: CodeBookRules): number[] {
  const taken: number[] = [];
  const orientations: number[] = [];
  // An odd step visits every word once. Multiplier: 2^32 over the golden ratio, which scatters successive seeds.
  const scattered = Math.imul(rules.seed, 0x9e3779b1) >>> 0;
  const step = (scattered >>> 6) | 1;
  let word = scattered % WORDS;
  for (let visited = 0; visited < WORDS && taken.length < rules.codes; visited++) {
    word = (word + step) % WORDS;
    if (!looksPrinted(word, rules)) continue;
    if (orientations.some((other) => hammingDistance(other, word) < rules.leastDistance)) continue;
    const turned = orientationsOf(word);
    if (turned.slice(1).some((other) => hammingDistance(other, word) < rules.leastDistance)) continue;
    taken.push(word);
    orientations.push(...turned);
  }
  return taken;
}

function looksPrinted(word: number, { transitions, whiteCells }: CodeBookRules): boolean {
  const white = countBits(word);
  if (white < whiteCells[0] || white > whiteCells[1]) return false;
  const changes = countTransitions(word);
  return changes >= transitions[0] && changes <= transitions[1];
}
