/**
 * A marker's payload as one integer: 25 bits, row by row from the top left, the first cell in the highest bit,
 * 1 is white.
 */
const PAYLOAD_SIDE = 5;
export const PAYLOAD_BITS = PAYLOAD_SIDE * PAYLOAD_SIDE;

const bitOf = (row: number, column: number): number => 1 << (PAYLOAD_BITS - 1 - (row * PAYLOAD_SIDE + column));

/** For each row and each of its 32 fillings: where those cells stand after a clockwise quarter turn. */
const TURNED_ROWS: readonly Int32Array[] = Array.from({ length: PAYLOAD_SIDE }, (_row, row) =>
  Int32Array.from({ length: 1 << PAYLOAD_SIDE }, (_cells, cells) => {
    let turned = 0;
    for (let column = 0; column < PAYLOAD_SIDE; column++) {
      if ((cells >> (PAYLOAD_SIDE - 1 - column)) & 1) turned |= bitOf(column, PAYLOAD_SIDE - 1 - row);
    }
    return turned;
  }),
);

const hasNeighbour = (direction: 'right' | 'below'): number => {
  let mask = 0;
  for (let row = 0; row < PAYLOAD_SIDE - (direction === 'below' ? 1 : 0); row++) {
    for (let column = 0; column < PAYLOAD_SIDE - (direction === 'right' ? 1 : 0); column++) mask |= bitOf(row, column);
  }
  return mask;
};
const HAS_RIGHT = hasNeighbour('right');
const HAS_BELOW = hasNeighbour('below');

/** Number of set bits of a 32-bit integer. */
export function countBits(word: number): number {
  let v = word - ((word >>> 1) & 0x55555555);
  v = (v & 0x33333333) + ((v >>> 2) & 0x33333333);
  v = (v + (v >>> 4)) & 0x0f0f0f0f;
  return Math.imul(v, 0x01010101) >>> 24;
}

/** Cells in which two payloads differ. */
export const hammingDistance = (first: number, second: number): number => countBits(first ^ second);

/** The payload after a quarter turn clockwise: its top left cell comes to the top right. */
function turnClockwise(word: number): number {
  return (
    TURNED_ROWS[0][word >>> 20] |
    TURNED_ROWS[1][(word >>> 15) & 31] |
    TURNED_ROWS[2][(word >>> 10) & 31] |
    TURNED_ROWS[3][(word >>> 5) & 31] |
    TURNED_ROWS[4][word & 31]
  );
}

/** The payload as it reads after 0, 1, 2 and 3 quarter turns clockwise. */
export function orientationsOf(word: number): [number, number, number, number] {
  const once = turnClockwise(word);
  const twice = turnClockwise(once);
  return [word, once, twice, turnClockwise(twice)];
}

/** Pairs of side-by-side or stacked cells, of 40, that differ. */
export function countTransitions(word: number): number {
  return countBits((word ^ (word << 1)) & HAS_RIGHT) + countBits((word ^ (word << PAYLOAD_SIDE)) & HAS_BELOW);
}

/** Cells (1 is white) to a word. @throws RangeError unless there are 25 cells */
export function payloadWord(cells: ArrayLike<number>): number {
  if (cells.length !== PAYLOAD_BITS) {
    throw new RangeError(`Expected ${PAYLOAD_BITS} payload cells but received ${cells.length}`);
  }
  let word = 0;
  for (let index = 0; index < PAYLOAD_BITS; index++) word = (word << 1) | (cells[index] === 0 ? 0 : 1);
  return word;
}

/** Rows of "0" and "1", top to bottom. */
export function payloadRows(word: number): string[] {
  const cells = word.toString(2).padStart(PAYLOAD_BITS, '0');
  return Array.from({ length: PAYLOAD_SIDE }, (_row, row) => cells.slice(row * PAYLOAD_SIDE, (row + 1) * PAYLOAD_SIDE));
}
