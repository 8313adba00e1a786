import type { Lettering } from '../millimetre-page.ts';
import { fillRectangle, writeParagraph } from '../millimetre-page.ts';
import { keepUnits } from './keep-units.ts';
import type { PageFlow } from './page-flow.ts';
import { BODY, PANEL_GREY, SMALL } from './report-document.ts';

export interface Column {
  readonly title: string;
  /** Part of the table's width. */
  readonly part: number;
}

interface Cell {
  readonly text: string;
  readonly note?: string;
  readonly lettering?: Lettering;
  /** Drawn at the left edge of the cell; the text begins `inset` mm further right. */
  readonly mark?: { readonly inset: number; readonly draw: (x: number, y: number) => void; readonly alt: string };
}

export interface Row {
  readonly cells: readonly Cell[];
  readonly isMarked?: boolean;
}

const PADDING_MM = { usual: 1.3, close: 0.55 } as const;
const GAP_MM = 3;

/** A table with its headings again on every page that it runs over. */
export function writeTable(
  flow: PageFlow,
  columns: readonly Column[],
  rows: readonly Row[],
  spacing: keyof typeof PADDING_MM = 'usual',
): void {
  const table = flow.open('Table');
  const layout = { columns: layOut(flow, columns), padding: PADDING_MM[spacing] };
  const hasTitles = columns.some(({ title }) => title !== '');
  const writeTitles = (): void => {
    if (!hasTitles) return;
    const cells = columns.map(({ title }) => ({ text: title, lettering: { ...SMALL, weight: 'semibold' } as const }));
    writeRow(flow, { table, layout, tag: 'TH' }, { cells });
  };
  flow.ensure(16);
  writeTitles();
  for (const row of rows) {
    if (flow.room < rowHeight(flow, layout, row)) {
      flow.newPage();
      writeTitles();
    }
    writeRow(flow, { table, layout, tag: 'TD' }, row);
  }
  table.end();
}

interface Layout {
  readonly columns: readonly ColumnPlace[];
  readonly padding: number;
}

interface ColumnPlace {
  readonly x: number;
  readonly width: number;
}

function layOut(flow: PageFlow, columns: readonly Column[]): ColumnPlace[] {
  const usable = flow.width - GAP_MM * (columns.length - 1);
  let x = flow.left;
  return columns.map(({ part }) => {
    const place = { x, width: usable * part };
    x += place.width + GAP_MM;
    return place;
  });
}

function rowHeight(flow: PageFlow, layout: Layout, { cells }: Row): number {
  const heights = cells.map((cell, at) => {
    const width = layout.columns[at].width - (cell.mark?.inset ?? 0);
    const note = cell.note === undefined ? 0 : flow.heightOf(keepUnits(cell.note), SMALL, width);
    return flow.heightOf(keepUnits(cell.text), cell.lettering ?? BODY, width) + note;
  });
  return Math.max(...heights) + 2 * layout.padding;
}

function writeRow(
  flow: PageFlow,
  { table, layout, tag }: { table: PDFKit.PDFStructureElement; layout: Layout; tag: 'TH' | 'TD' },
  row: Row,
): void {
  const height = rowHeight(flow, layout, row);
  const top = flow.y;
  if (row.isMarked === true) {
    flow.artifact(() => {
      fillRectangle(flow.doc, [flow.left - 2, top, flow.width + 4, height], PANEL_GREY);
    });
  }
  const element = flow.doc.struct('TR');
  table.add(element);
  row.cells.forEach((cell, at) => {
    element.add(
      flow.doc.struct(tag, cell.mark === undefined ? {} : { alt: cell.mark.alt }, () => {
        writeCell(flow, cell, { ...layout.columns[at], y: top + layout.padding });
      }),
    );
  });
  element.end();
  flow.y = top + height;
  flow.hairline(flow.y);
}

function writeCell(flow: PageFlow, cell: Cell, place: { x: number; y: number; width: number }): void {
  const inset = cell.mark?.inset ?? 0;
  cell.mark?.draw(place.x, place.y);
  const at = { x: place.x + inset, y: place.y, width: place.width - inset };
  const below = writeParagraph(flow.doc, keepUnits(cell.text), at, cell.lettering ?? BODY);
  if (cell.note !== undefined) writeParagraph(flow.doc, keepUnits(cell.note), { ...at, y: below }, SMALL);
}
