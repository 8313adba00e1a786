import { INK, fillRectangle, writeLine } from '../millimetre-page.ts';

const MM_PER_INCH = 25.4;
/** Rounded lengths for a bar, in mm and in inches. */
const MM_STEPS = [5, 10, 20, 50, 100, 200, 500, 1000, 2000];
const INCH_STEPS = [0.25, 0.5, 1, 2, 4, 8, 20, 40, 80];

export interface BarLength {
  readonly lengthMm: number;
  readonly words: string;
}

/** The longest round length that fits into `roomMm` of the surface. */
export function barLength(roomMm: number, unit: 'mm' | 'inch'): BarLength {
  const perUnit = unit === 'mm' ? 1 : MM_PER_INCH;
  const steps = unit === 'mm' ? MM_STEPS : INCH_STEPS;
  const fitting = steps.filter((step) => step * perUnit <= roomMm);
  const step = fitting.length === 0 ? steps[0] : fitting[fitting.length - 1];
  return { lengthMm: step * perUnit, words: `${step} ${unit === 'mm' ? 'mm' : 'in'}` };
}

/** A bar of four fields, dark and light in turn, `paperMm` long on the paper, with its length in words. */
export function drawScaleBar(
  doc: PDFKit.PDFDocument,
  {
    x,
    y,
    paperMm,
    words,
  }: { readonly x: number; readonly y: number; readonly paperMm: number; readonly words: string },
): void {
  const height = 1.3;
  const field = paperMm / 4;
  fillRectangle(doc, [x, y, paperMm, height], INK);
  for (const at of [1, 3]) {
    fillRectangle(doc, [x + at * field, y + 0.25, field - 0.25 * (at === 3 ? 1 : 0), height - 0.5], [255, 255, 255]);
  }
  writeLine(doc, words, [x + paperMm + 1.8, y + height + 0.2], {
    sizeMm: 2.8,
    weight: 'semibold',
    colour: INK,
    anchor: 'start',
  });
}
