import type { ReportFact } from '../../../evidence/report/report.ts';
import type { PageFlow } from './page-flow.ts';
import { BODY, BODY_STRONG, STEEL_BLUE } from './report-document.ts';
import { writeTable } from './table.ts';

/** Width of the label column, part of the page's width. */
const LABEL_PART = 0.3;
const PERSON_INSET_MM = 5;

/** Label and value in rows. What a person typed in has the sign of a person before it: see {@link drawPerson}. */
export function writeFacts(flow: PageFlow, facts: readonly ReportFact[]): void {
  writeTable(
    flow,
    [
      { title: '', part: LABEL_PART },
      { title: '', part: 1 - LABEL_PART },
    ],
    facts.map(({ label, value, note, isEntered }) => ({
      cells: [
        { text: label, lettering: BODY_STRONG },
        {
          text: value,
          lettering: BODY,
          ...(note === undefined ? {} : { note }),
          ...(isEntered === true ? { mark: personMark(flow) } : {}),
        },
      ],
    })),
  );
}

function personMark(flow: PageFlow): { inset: number; draw: (x: number, y: number) => void; alt: string } {
  return {
    inset: PERSON_INSET_MM,
    alt: 'Entered by a person.',
    draw: (x, y) => {
      drawPerson(flow.doc, x, y);
    },
  };
}

/** Head and shoulders, 3 mm high. */
function drawPerson(doc: PDFKit.PDFDocument, x: number, y: number): void {
  doc.circle(x + 1.5, y + 1.15, 0.78);
  doc
    .moveTo(x, y + 3.5)
    .bezierCurveTo(x + 0.1, y + 1.9, x + 2.9, y + 1.9, x + 3, y + 3.5)
    .closePath();
  doc.fill([...STEEL_BLUE]);
}
