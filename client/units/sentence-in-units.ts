import { keptTogether } from './kept-together.ts';
import { formatNumber, MM_PER_INCH, SQUARE_METRES_PER_SQUARE_FOOT } from './shown-units.ts';
import type { ShownUnits } from './shown-units.ts';

/** A number, a span or the sides of a piece, and the metric unit behind it, as the server writes them into a sentence. */
const QUANTITY =
  /(\d+(?:\.\d+)?)(?:( to | and | x )(\d+(?:\.\d+)?))? (mm\/s|mm|min\/m²|min\/m2|m²\/h|m2\/h|m²|m2)(?![\w²])/g;

const INCHES: Readonly<Record<string, { readonly unit: string; readonly factor: number; readonly decimals: number }>> =
  {
    mm: { unit: 'in', factor: 1 / MM_PER_INCH, decimals: 3 },
    'mm/s': { unit: 'in/s', factor: 1 / MM_PER_INCH, decimals: 2 },
    'min/m²': { unit: 'min/ft²', factor: SQUARE_METRES_PER_SQUARE_FOOT, decimals: 2 },
    'm²': { unit: 'ft²', factor: 1 / SQUARE_METRES_PER_SQUARE_FOOT, decimals: 1 },
    'm²/h': { unit: 'ft²/h', factor: 1 / SQUARE_METRES_PER_SQUARE_FOOT, decimals: 1 },
  };

/**
 * A sentence of the server with its lengths, speeds and rates in the shop's units. The server writes all of them in
 * millimetres and square metres; the numbers are rounded there already, so no digit is won here.
 */
export function sentenceInUnits(sentence: string, { system }: Pick<ShownUnits, 'system'>): string {
  if (system === 'millimetres') return raised(sentence);
  const inInches = sentence.replace(QUANTITY, (...[, first, joint, second, metric]: Quantity) => {
    const { unit, factor, decimals } = INCHES[metric.replace('m2', 'm²')];
    const shown = (number: string): string => formatNumber(Number(number) * factor, decimals);
    return joint === undefined || second === undefined
      ? `${shown(first)} ${unit}`
      : `${shown(first)}${joint}${shown(second)} ${unit}`;
  });
  return raised(inInches);
}

/** Sentences on a command line say m2 and J/cm2; a page can print the raised figure, and hold a number to its unit. */
const raised = (sentence: string): string => keptTogether(sentence.replace(/\b(c?m)2\b/g, '$1²'));

/** What the pattern catches: the whole, the number, and where there is a span its joint and second number; then the unit. */
type Quantity = [
  whole: string,
  first: string,
  joint: string | undefined,
  second: string | undefined,
  metric: string,
  ...rest: unknown[],
];
