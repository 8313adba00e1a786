import type { RectangleMm, ReferenceCard } from '../../domain/index.ts';
import type { Srgb8 } from '../../measure/card/card-drawing.ts';
import { INK, QUIET_INK, fillRectangle, writeLine } from './millimetre-page.ts';

type Document = PDFKit.PDFDocument;
const CHECK_RULER_MM = 100;
const CUT_GAP_MM = 2;
const CUT_LENGTH_MM = 5;
const HAIRLINE_MM = 0.12;
const RULER_NUMBER = { sizeMm: 2.4, weight: 'regular', colour: QUIET_INK } as const;

/** Short lines on the extensions of the card's edges, clear of the card. */
export function drawCutMarks(doc: Document, { x, y, width, height }: RectangleMm): void {
  doc.lineWidth(HAIRLINE_MM).strokeColor([...INK]);
  for (const [cornerX, outX] of [
    [x, -1],
    [x + width, 1],
  ]) {
    for (const [cornerY, outY] of [
      [y, -1],
      [y + height, 1],
    ]) {
      doc.moveTo(cornerX + outX * CUT_GAP_MM, cornerY).lineTo(cornerX + outX * (CUT_GAP_MM + CUT_LENGTH_MM), cornerY);
      doc.moveTo(cornerX, cornerY + outY * CUT_GAP_MM).lineTo(cornerX, cornerY + outY * (CUT_GAP_MM + CUT_LENGTH_MM));
    }
  }
  doc.stroke();
}

/** A 100 mm line with millimetre ticks on it; (x, y) is its left end. */
export function drawCheckRuler(doc: Document, [x, y]: readonly [number, number]): void {
  const tickWidth = 0.18;
  fillRectangle(doc, [x, y - 0.1, CHECK_RULER_MM, 0.2], INK);
  for (let mm = 0; mm <= CHECK_RULER_MM; mm++) {
    const tall = mm % 10 === 0 ? 3.6 : mm % 5 === 0 ? 2.6 : 1.6;
    // The outer edges of the end ticks, not their middles, are 100 mm apart: a ruler is laid against edges.
    const left = Math.min(Math.max(mm - tickWidth / 2, 0), CHECK_RULER_MM - tickWidth);
    fillRectangle(doc, [x + left, y - tall, tickWidth, tall], INK);
    if (mm % 10 === 0) writeLine(doc, String(mm), [x + mm, y - 4.4], { ...RULER_NUMBER, anchor: 'middle' });
  }
  writeLine(doc, 'mm', [x + CHECK_RULER_MM + 2.8, y - 4.4], { ...RULER_NUMBER, anchor: 'start' });
}

/** The card in small with the name on every patch; (x, y) is its top left corner. */
export function drawPatchKey(
  doc: Document,
  card: ReferenceCard,
  place: { readonly x: number; readonly y: number; readonly width: number },
): void {
  const scale = place.width / card.widthMm;
  const frame = ({ x, y, width, height }: RectangleMm): readonly [number, number, number, number] => [
    place.x + x * scale,
    place.y + y * scale,
    width * scale,
    height * scale,
  ];
  doc.lineWidth(HAIRLINE_MM).strokeColor([...QUIET_INK]);
  doc.rect(...frame({ x: 0, y: 0, width: card.widthMm, height: card.heightMm })).stroke();
  const markerGrey: Srgb8 = [215, 215, 215];
  for (const marker of card.markers) fillRectangle(doc, frame(marker.area), markerGrey);
  for (const patch of card.patches) {
    const [x, y, width, height] = frame(patch.area);
    doc.rect(x, y, width, height).stroke();
    writeLine(doc, patch.id, [x + width / 2, y + height / 2 + 0.75], {
      sizeMm: 2.1,
      weight: 'semibold',
      colour: INK,
      anchor: 'middle',
    });
  }
}
