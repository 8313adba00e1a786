import type { ReferenceCard } from '../../domain/index.ts';
import type { Srgb8 } from '../../measure/card/card-drawing.ts';
import { drawCard } from '../../measure/card/card-drawing.ts';
import { drawCheckRuler, drawCutMarks, drawPatchKey } from './card-pdf-marks.ts';
import type { Lettering, PaperSize } from './millimetre-page.ts';
import {
  INK,
  QUIET_INK,
  SHEET_MM,
  drawShapes,
  fillRectangle,
  millimetrePage,
  pdfBytes,
  writeLine,
  writeParagraph,
} from './millimetre-page.ts';

type Document = PDFKit.PDFDocument;

export interface CardPdfOptions {
  /** Title of the document, as readers show it. */
  readonly title?: string;
}

const CONTENT_WIDTH_MM = 172;
const COLUMN_GAP_MM = 8;
const BODY: Lettering = { sizeMm: 3.1, weight: 'regular', colour: INK };
const HEADING: Lettering = { sizeMm: 3.9, weight: 'semibold', colour: INK };
const SAFETY_RED: Srgb8 = [178, 32, 32];

/** Usual cautions with a class 4 laser; they do not replace the site's own rules. Common practice. */
const SAFETY =
  'Class 4 laser: never leave the card on the zone while it fires. Paper catches fire, and its smoke is harmful. Take ' +
  'it away first; then clear the area, run the extraction, and wear eye protection for the wavelength.';

const STEPS: readonly (readonly [heading: string, text: string])[] = [
  [
    '1  Print',
    'At 100 % (“actual size”), not “fit to page”. Use matt paper: gloss mirrors the lamps. Switch off every colour ' +
      '“enhancement” of the printer. Then lay a ruler on the 100 mm line below the card.',
  ],
  [
    '2  Cut and mount',
    'Cut along the grey outline. Glue the card flat on a stiff board; a bent card cannot be measured with. Keep it dry ' +
      'and out of the light. Print a new one when it has faded, or is stained or creased.',
  ],
  [
    '3  Photograph',
    'Lay it beside the zone, flat on the same surface. Have the whole card and the zone in view, sharp and evenly lit, ' +
      'without glare or a hard shadow on either. Take before and after in the same light.',
  ],
];

const MEASURE_HEADING = '4  Measure the patches, if you can';
const MEASURE =
  'Until then the colours are design values, which a printer meets only roughly. With a spectrophotometer, measure all ' +
  'patches and a bare spot of paper (D50, 2 degree observer) and save them as a CGATS text file: one row for each ' +
  'patch, with SAMPLE_ID as in the key, PAPER for the bare spot, and LAB_L, LAB_A, LAB_B. Values hold for this ' +
  'printer, ink and paper; measure again when one of them changes.';

/**
 * The card on a sheet to print: cut marks, a check ruler, what to do and what not. Vector shapes and embedded letters
 * only; the same card and options give the same bytes.
 */
export function cardPdf(card: ReferenceCard, paper: PaperSize, options: CardPdfOptions = {}): Promise<Buffer> {
  const title = options.title ?? `Bareplate reference card, edition ${card.edition}`;
  const doc = millimetrePage(paper, title);
  const [sheetWidth, sheetHeight] = SHEET_MM[paper];
  const left = (sheetWidth - CONTENT_WIDTH_MM) / 2;
  const cardAt = { x: (sheetWidth - card.widthMm) / 2, y: (sheetHeight - card.heightMm) / 2 };
  const root = doc.struct('Document');
  doc.addStructure(root);
  const add = (tag: string, draw: () => void, alt?: string): void => {
    root.add(doc.struct(tag, alt === undefined ? {} : { alt }, draw));
  };

  writeHeader({ doc, add, left, card });
  STEPS.forEach((step, index) => {
    writeStep({ doc, add, left, card }, step, index);
  });
  add(
    'Figure',
    () => {
      drawShapes(doc, drawCard(card), [cardAt.x, cardAt.y]);
      drawCutMarks(doc, { ...cardAt, width: card.widthMm, height: card.heightMm });
    },
    `The reference card, ${card.widthMm} mm x ${card.heightMm} mm: four square codes in the corners, ${card.patches.length} colour patches, a millimetre scale.`,
  );
  writeFooter({ doc, add, left, card }, cardAt.y + card.heightMm, sheetHeight);
  root.end();
  return pdfBytes(doc);
}

interface Sheet {
  readonly doc: Document;
  readonly add: (tag: string, draw: () => void, alt?: string) => void;
  readonly left: number;
  readonly card: ReferenceCard;
}

function writeHeader({ doc, add, left, card }: Sheet): void {
  add('H1', () => {
    writeLine(doc, 'Bareplate reference card', [left, 22], { ...HEADING, sizeMm: 8, anchor: 'start' });
  });
  add('P', () => {
    const right = left + CONTENT_WIDTH_MM;
    writeLine(doc, `edition ${card.edition}`, [right, 22], { ...BODY, sizeMm: 4.2, colour: QUIET_INK, anchor: 'end' });
  });
  add('P', () => {
    const top = 27;
    const end = writeParagraph(
      doc,
      SAFETY,
      { x: left + 4, y: top, width: CONTENT_WIDTH_MM - 4 },
      { sizeMm: 3.5, weight: 'semibold', colour: SAFETY_RED },
    );
    fillRectangle(doc, [left, top, 1.2, end - top - 0.4], SAFETY_RED);
  });
}

function writeStep({ doc, add, left }: Sheet, [heading, text]: readonly [string, string], index: number): void {
  const width = (CONTENT_WIDTH_MM - 2 * COLUMN_GAP_MM) / STEPS.length;
  const x = left + index * (width + COLUMN_GAP_MM);
  const top = 44;
  add('H2', () => {
    writeLine(doc, heading, [x, top + 3.2], { ...HEADING, anchor: 'start' });
  });
  add('P', () => {
    writeParagraph(doc, text, { x, y: top + 5.8, width }, BODY);
  });
}

function writeFooter({ doc, add, left, card }: Sheet, cardBottom: number, sheetHeight: number): void {
  const rulerY = cardBottom + 18;
  add(
    'Figure',
    () => {
      drawCheckRuler(doc, [left, rulerY]);
    },
    'A line of exactly 100 mm with millimetre ticks.',
  );
  add('P', () => {
    writeParagraph(
      doc,
      'Must measure exactly 100 mm. If it does not, the sheet was scaled: print it again at 100 %.',
      { x: left + 116, y: rulerY - 8, width: CONTENT_WIDTH_MM - 116 },
      { ...BODY, weight: 'semibold' },
    );
  });
  const keyWidth = 64;
  const top = rulerY + 9;
  add('H2', () => {
    writeLine(doc, MEASURE_HEADING, [left, top + 3.2], { ...HEADING, anchor: 'start' });
  });
  add('P', () => {
    writeParagraph(doc, MEASURE, { x: left, y: top + 5.8, width: CONTENT_WIDTH_MM - keyWidth - COLUMN_GAP_MM }, BODY);
  });
  add(
    'Figure',
    () => {
      drawPatchKey(doc, card, { x: left + CONTENT_WIDTH_MM - keyWidth, y: top, width: keyWidth });
    },
    'Key to the patch names: rows A to F from the top with columns 1 to 7 from the left, L1 to L3 at the left side, R1 to R3 at the right side.',
  );
  add('P', () => {
    writeLine(doc, 'The card supports an inspector; it certifies nothing.', [left, sheetHeight - 12], {
      ...BODY,
      sizeMm: 2.6,
      colour: QUIET_INK,
      anchor: 'start',
    });
  });
}
