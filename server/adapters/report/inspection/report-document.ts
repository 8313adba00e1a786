import PDFDocument from 'pdfkit';
import type { LetterWeight, Srgb8 } from '../../../measure/card/card-drawing.ts';
import { barlowFont } from '../barlow-font.ts';
import type { Lettering, PaperSize } from '../millimetre-page.ts';
import { INK, QUIET_INK, SHEET_MM } from '../millimetre-page.ts';

const POINTS_PER_MM = 72 / 25.4;
export const MARGIN_MM = 16;
export const FOOTER_MM = 15;
export const HAIR_GREY: Srgb8 = [206, 210, 214];
export const PANEL_GREY: Srgb8 = [243, 245, 246];
export const STEEL_BLUE: Srgb8 = [31, 66, 92];

export const BODY: Lettering = { sizeMm: 3.2, weight: 'regular', colour: INK };
export const BODY_STRONG: Lettering = { ...BODY, weight: 'semibold' };
export const SMALL: Lettering = { sizeMm: 2.6, weight: 'regular', colour: QUIET_INK };
export const HEADING: Lettering = { sizeMm: 4.6, weight: 'bold', colour: STEEL_BLUE };
export const SUBHEADING: Lettering = { sizeMm: 3.5, weight: 'semibold', colour: INK };

const WEIGHTS: readonly LetterWeight[] = ['regular', 'semibold', 'bold'];

export interface DocumentNames {
  /** Plain letters, digits and hyphens: it also stands in the metadata. */
  readonly recordId: string;
  readonly recordSha256: string;
  /** The document's only date, so that the same record gives the same bytes. */
  readonly date: Date;
}

/** An empty tagged document of the archive kind PDF/A-3b, whose pages are added by {@link addMillimetrePage}. */
export function reportDocument({ recordId, recordSha256, date }: DocumentNames): PDFKit.PDFDocument {
  const doc = new PDFDocument({
    margin: 0,
    pdfVersion: '1.7',
    subset: 'PDF/A-3b',
    tagged: true,
    lang: 'en',
    displayTitle: true,
    autoFirstPage: false,
    bufferPages: true,
    info: {
      Title: `Inspection record ${recordId}`,
      Keywords: recordSha256,
      Creator: 'Bareplate',
      Producer: 'Bareplate',
      // No date of change: the library would not repeat it in the metadata, and the two have to agree.
      CreationDate: date,
    },
  });
  for (const weight of WEIGHTS) doc.registerFont(weight, barlowFont(weight));
  doc.font('regular');
  return doc;
}

/** A page whose unit is the millimetre, origin top left. */
export function addMillimetrePage(doc: PDFKit.PDFDocument, paper: PaperSize): void {
  const [width, height] = SHEET_MM[paper];
  doc.addPage({ size: [width * POINTS_PER_MM, height * POINTS_PER_MM], margin: 0 });
  doc.scale(POINTS_PER_MM);
}
