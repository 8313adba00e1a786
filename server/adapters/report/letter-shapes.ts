import opentype from 'opentype.js';
import type { LetterWeight, TextAnchor } from '../../measure/card/card-drawing.ts';
import { barlowFont } from './barlow-font.ts';

export interface TextPlacement {
  /** On the baseline, where `anchor` says. */
  readonly x: number;
  readonly y: number;
  /** Height of the em square. Any unit will do, as long as x and y have the same. */
  readonly sizeMm: number;
  readonly weight: LetterWeight;
  readonly anchor: TextAnchor;
}

/** Finer than 1200 dpi can show. */
const STEPS_PER_UNIT = 1e4;
const parsed = new Map<LetterWeight, opentype.Font>();

function fontOf(weight: LetterWeight): opentype.Font {
  const known = parsed.get(weight);
  if (known !== undefined) return known;
  const bytes = barlowFont(weight);
  const font = opentype.parse(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength));
  parsed.set(weight, font);
  return font;
}

/** Advance width of one line of text, kerning included, in the unit of `sizeMm`. */
export function textWidth(text: string, { sizeMm, weight }: Pick<TextPlacement, 'sizeMm' | 'weight'>): number {
  return fontOf(weight).getAdvanceWidth(text, sizeMm);
}

/** Whether the typeface has every character. */
export const canWrite = (text: string, weight: LetterWeight): boolean =>
  Array.from(text).every((character) => fontOf(weight).charToGlyphIndex(character) > 0);

/**
 * One line of text as SVG path data, so that a picture needs no installed font.
 * A character that the typeface lacks is drawn as its empty box.
 */
export function textPath(text: string, placement: TextPlacement): string {
  const { x, y, sizeMm, weight, anchor } = placement;
  const shift = { start: 0, middle: 0.5, end: 1 }[anchor] * textWidth(text, placement);
  const { commands } = fontOf(weight).getPath(text, x - shift, y, sizeMm);
  return commands.map(pathCommand).join('');
}

/** Written here because the library's own writer yields NaN for numbers in exponent notation. */
function pathCommand(command: opentype.PathCommand): string {
  switch (command.type) {
    case 'M':
    case 'L':
      return command.type + numbers(command.x, command.y);
    case 'Q':
      return `Q${numbers(command.x1, command.y1, command.x, command.y)}`;
    case 'C':
      return `C${numbers(command.x1, command.y1, command.x2, command.y2, command.x, command.y)}`;
    case 'Z':
      return 'Z';
  }
}

const numbers = (...values: number[]): string =>
  values.map((value) => String(Math.round(value * STEPS_PER_UNIT) / STEPS_PER_UNIT)).join(' ');
