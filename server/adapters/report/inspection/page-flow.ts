import type { Lettering, PaperSize } from '../millimetre-page.ts';
import { SHEET_MM, fillRectangle, writeParagraph } from '../millimetre-page.ts';
import { keepUnits } from './keep-units.ts';
import { BODY, FOOTER_MM, HAIR_GREY, HEADING, MARGIN_MM, SUBHEADING, addMillimetrePage } from './report-document.ts';

type Document = PDFKit.PDFDocument;
export type Element = PDFKit.PDFStructureElement;
export interface Place {
  readonly x: number;
  readonly y: number;
  readonly width: number;
}

/** Lays a document out from top to bottom, page after page, with its structure: what is drawn is tagged or an artifact. */
export class PageFlow {
  readonly doc: Document;
  readonly paper: PaperSize;
  readonly left = MARGIN_MM;
  readonly width: number;
  readonly #bottom: number;
  readonly #root: Element;
  #section: Element;
  y = MARGIN_MM;

  constructor(doc: Document, paper: PaperSize) {
    this.doc = doc;
    this.paper = paper;
    const [sheetWidth, sheetHeight] = SHEET_MM[paper];
    this.width = sheetWidth - 2 * MARGIN_MM;
    this.#bottom = sheetHeight - FOOTER_MM;
    this.#root = doc.struct('Document');
    doc.addStructure(this.#root);
    this.#section = this.#root;
    this.newPage();
  }

  get room(): number {
    return this.#bottom - this.y;
  }

  newPage(): void {
    addMillimetrePage(this.doc, this.paper);
    this.y = MARGIN_MM;
  }

  /** Goes on to the next page when less than this is left on this one. */
  ensure(heightMm: number): void {
    if (this.room < heightMm) this.newPage();
  }

  space(heightMm: number): void {
    this.y += heightMm;
  }

  /** Begins a section with its heading; `follows` is kept on one page with it. */
  section(title: string, follows = 24): void {
    this.#endSection();
    this.ensure(follows + 10);
    if (this.y > MARGIN_MM) this.space(5);
    this.#section = this.doc.struct('Sect');
    this.#root.add(this.#section);
    const top = this.y;
    this.artifact(() => {
      fillRectangle(this.doc, [this.left, top, this.width, 0.35], HEADING.colour);
    });
    this.y += 2.2;
    this.heading('H2', title, HEADING);
    this.space(1.6);
  }

  subheading(title: string, follows = 12): void {
    this.ensure(follows + 7);
    this.space(4);
    this.heading('H3', title, SUBHEADING);
    this.space(0.8);
  }

  heading(tag: string, text: string, lettering: Lettering): void {
    this.tagged(tag, () => {
      this.y = writeParagraph(this.doc, text, this.#here(), lettering);
    });
  }

  paragraph(text: string, lettering: Lettering = BODY): void {
    const words = keepUnits(text);
    this.ensure(this.heightOf(words, lettering, this.width));
    this.tagged('P', () => {
      this.y = writeParagraph(this.doc, words, this.#here(), lettering);
    });
  }

  /** Sentences with a short rule before each. */
  list(sentences: readonly string[], lettering: Lettering = BODY): void {
    const list = this.doc.struct('L');
    this.#section.add(list);
    for (const sentence of sentences.map(keepUnits)) {
      const place = { x: this.left + 4, width: this.width - 4 };
      this.ensure(this.heightOf(sentence, lettering, place.width));
      const top = this.y;
      this.artifact(() => {
        fillRectangle(this.doc, [this.left, top + 0.62 * lettering.sizeMm, 2, 0.3], lettering.colour);
      });
      const item = this.doc.struct('LI');
      list.add(item);
      item.add(
        this.doc.struct('LBody', {}, () => {
          this.y = writeParagraph(this.doc, sentence, { ...place, y: top }, lettering) + 0.9;
        }),
      );
      item.end();
    }
    list.end();
  }

  /** What is drawn within belongs to the reading order, under the section. */
  tagged(tag: string, draw: () => void, alt?: string): void {
    this.#section.add(this.doc.struct(tag, alt === undefined ? {} : { alt }, draw));
  }

  /** An element that is filled step by step; the caller ends it. */
  open(tag: string): Element {
    const element = this.doc.struct(tag);
    this.#section.add(element);
    return element;
  }

  /** What is drawn within means nothing to a listener. */
  artifact(draw: () => void): void {
    this.doc.markContent('Artifact', { type: 'Layout' });
    draw();
    this.doc.endMarkedContent();
  }

  hairline(y: number, width = this.width, x = this.left): void {
    this.artifact(() => {
      fillRectangle(this.doc, [x, y, width, 0.18], HAIR_GREY);
    });
  }

  heightOf(text: string, { weight, sizeMm }: Lettering, width: number): number {
    this.doc.font(weight).fontSize(sizeMm);
    return this.doc.heightOfString(text, { width, lineGap: 0.16 * sizeMm });
  }

  end(): void {
    this.#endSection();
    this.#root.end();
  }

  #endSection(): void {
    if (this.#section !== this.#root) this.#section.end();
    this.#section = this.#root;
  }

  #here(): Place {
    return { x: this.left, y: this.y, width: this.width };
  }
}
