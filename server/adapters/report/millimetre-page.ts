import PDFDocument from 'pdfkit';
import type { LetterWeight, Shape, Srgb8, TextAnchor } from '../../measure/card/card-drawing.ts';
import { barlowFont } from './barlow-font.ts';

export type PaperSize = 'a4' | 'letter';

/** ISO 216 and ANSI/ASME Y14.1 sheet sizes, mm, upright. */
export const SHEET_MM: Readonly<Record<PaperSize, readonly [width: number, height: number]>> = {
  a4: [210, 297],
  letter: [215.9, 279.4],
};
export const INK: Srgb8 = [32, 34, 38];
export const QUIET_INK: Srgb8 = [105, 108, 114];
const POINTS_PER_MM = 72 / 25.4;
const WEIGHTS: readonly LetterWeight[] = ['regular', 'semibold', 'bold'];
/** The same card must give the same bytes at any time, so the file carries no real date. */
const FIXED_DATE = new Date(Date.UTC(2000, 0, 1));

export interface Lettering {
  readonly sizeMm: number;
  readonly weight: LetterWeight;
  readonly colour: Srgb8;
}

/** A one-page tagged document whose unit is the millimetre, origin top left. */
export function millimetrePage(paper: PaperSize, title: string): PDFKit.PDFDocument {
  const [width, height] = SHEET_MM[paper];
  const doc = new PDFDocument({
    size: [width * POINTS_PER_MM, height * POINTS_PER_MM],
    margin: 0,
    pdfVersion: '1.7',
    tagged: true,
    lang: 'en',
    displayTitle: true,
    autoFirstPage: false,
    info: { Title: title, Creator: 'Bareplate', Producer: 'Bareplate', CreationDate: FIXED_DATE },
  });
  for (const weight of WEIGHTS) doc.registerFont(weight, barlowFont(weight));
  doc.font('regular');
  doc.addPage();
  doc.scale(POINTS_PER_MM);
  return doc;
}

export function pdfBytes(doc: PDFKit.PDFDocument): Promise<Buffer> {
  return new Promise((resolve, reject) => {
    const chunks: Buffer[] = [];
    doc.on('data', (chunk: Buffer) => chunks.push(chunk));
    doc.on('end', () => {
      resolve(Buffer.concat(chunks));
    });
    doc.on('error', reject);
    doc.end();
  });
}

function setLettering(doc: PDFKit.PDFDocument, { sizeMm, weight, colour }: Lettering): PDFKit.PDFDocument {
  return doc
    .font(weight)
    .fontSize(sizeMm)
    .fillColor([...colour]);
}

/** One line; (x, y) on its baseline. */
export function writeLine(
  doc: PDFKit.PDFDocument,
  text: string,
  [x, y]: readonly [number, number],
  lettering: Lettering & { readonly anchor: TextAnchor },
): void {
  setLettering(doc, lettering);
  const shift = { start: 0, middle: 0.5, end: 1 }[lettering.anchor] * doc.widthOfString(text);
  doc.text(text, x - shift, y, { baseline: 'alphabetic', lineBreak: false });
}

/** Wrapped text from (x, y), the top of its first line. @returns the y below it */
export function writeParagraph(
  doc: PDFKit.PDFDocument,
  text: string,
  place: { readonly x: number; readonly y: number; readonly width: number },
  lettering: Lettering,
): number {
  setLettering(doc, lettering);
  const options = { width: place.width, lineGap: 0.16 * lettering.sizeMm };
  doc.text(text, place.x, place.y, options);
  return place.y + doc.heightOfString(text, options);
}

export function fillRectangle(
  doc: PDFKit.PDFDocument,
  [x, y, width, height]: readonly [number, number, number, number],
  colour: Srgb8,
): void {
  doc.rect(x, y, width, height).fill([...colour]);
}

/** Draws shapes of the card frame with the card's corner at (left, top). */
export function drawShapes(
  doc: PDFKit.PDFDocument,
  shapes: readonly Shape[],
  [left, top]: readonly [number, number],
): void {
  for (const shape of shapes) {
    if (shape.kind === 'text') {
      writeLine(doc, shape.text, [left + shape.at[0], top + shape.at[1]], shape);
      continue;
    }
    for (const area of shape.areas) doc.rect(left + area.x, top + area.y, area.width, area.height);
    doc.fill([...shape.colour]);
  }
}
