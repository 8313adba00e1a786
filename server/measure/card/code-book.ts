import type { MarkerCorner } from '../../domain/index.ts';
import { MARKER_CORNERS } from '../../domain/index.ts';
import { hammingDistance, orientationsOf, payloadRows, payloadWord } from './payload-word.ts';

/** Editions the book has room for. Only edition 0 has a layout; the rest keep later cards apart from this one. */
export const CODE_BOOK_EDITIONS = 8;
/** Least distance of any two codes in any orientation, of 25 cells. Checked by the test, which makes the book anew. */
export const CODE_BOOK_DISTANCE = 9;
/** A payload with at most this many wrong cells still belongs to exactly one code. */
export const CORRECTABLE_BIT_ERRORS = Math.floor((CODE_BOOK_DISTANCE - 1) / 2);
/**
 * Wrong cells that are forgiven when nothing else speaks for a marker. A random payload falls within 2 of one of the
 * 128 oriented codes with a chance of 128 x 326 / 2^25 = 0.12 %, within 3 with 1.0 %, within 4 with 5.8 %: rust is full
 * of dark squares, so 2. A caller that already knows where a marker must stand may go up to the correctable 4.
 */
export const TRUSTED_BIT_ERRORS = 2;

/** One edition a row; top left, top right, bottom right, bottom left. Made by generate-code-book.ts. */
const CODE_BOOK: readonly (readonly number[])[] = [
  [0x129357f, 0x01af14d, 0x093cf34, 0x10cad1b],
  [0x0f024b7, 0x14c7a3a, 0x1e89cdc, 0x0bdd046],
  [0x08b7bd5, 0x183f3fa, 0x1428fd3, 0x037d9e8],
  [0x02076d3, 0x04e062c, 0x0f60a74, 0x015559b],
  [0x00dc2aa, 0x1036cf6, 0x11b3042, 0x0cfe1b4],
  [0x1b18ada, 0x1b7443f, 0x043b470, 0x06d9f56],
  [0x0aa0aef, 0x1566573, 0x0d0529d, 0x0386956],
  [0x010baa9, 0x02c0587, 0x1efc2d9, 0x0b4d631],
];

export interface PayloadMatch {
  readonly edition: number;
  readonly corner: MarkerCorner;
  /** The seen payload is the printed one turned clockwise this many quarter turns. */
  readonly quarterTurns: 0 | 1 | 2 | 3;
  readonly bitErrors: number;
}

interface OrientedCode extends Omit<PayloadMatch, 'bitErrors'> {
  readonly word: number;
}

const ORIENTED_CODES: readonly OrientedCode[] = CODE_BOOK.flatMap((codes, edition) =>
  codes.flatMap((code, corner) =>
    orientationsOf(code).map((word, turns) => ({
      word,
      edition,
      corner: MARKER_CORNERS[corner],
      quarterTurns: turns as PayloadMatch['quarterTurns'],
    })),
  ),
);

/**
 * Payload of a marker as printed on the upright card: rows top to bottom, "1" is white.
 * @throws RangeError for an edition that is not in the book
 */
export function cornerPayload(edition: number, corner: MarkerCorner): string[] {
  if (!(edition in CODE_BOOK)) throw new RangeError(`Expected an edition 0..7 but received ${edition}`);
  return payloadRows(CODE_BOOK[edition][MARKER_CORNERS.indexOf(corner)]);
}

/**
 * Finds the code that a payload is a damaged or turned reading of.
 * @param bits 25 cells row by row, 1 is white
 * @param mostBitErrors wrong cells forgiven, 0..{@link CORRECTABLE_BIT_ERRORS}
 * @returns null when no code is that near
 */
export function matchPayload(bits: Uint8Array, mostBitErrors: number = TRUSTED_BIT_ERRORS): PayloadMatch | null {
  if (!(mostBitErrors >= 0 && mostBitErrors <= CORRECTABLE_BIT_ERRORS)) {
    throw new RangeError(`Expected 0..${CORRECTABLE_BIT_ERRORS} forgiven cells but received ${mostBitErrors}`);
  }
  const seen = payloadWord(bits);
  for (const { word, edition, corner, quarterTurns } of ORIENTED_CODES) {
    const bitErrors = hammingDistance(seen, word);
    if (bitErrors <= mostBitErrors) return { edition, corner, quarterTurns, bitErrors };
  }
  return null;
}
