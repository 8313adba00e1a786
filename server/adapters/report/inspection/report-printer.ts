import type { Report } from '../../../evidence/report/report.ts';
import type { PrintRequest, ReportPrinter } from '../../../services/evidence-ports.ts';
import type { PhotoDecoder } from '../../../services/ports.ts';
import { SHEET_MM, pdfBytes, writeLine } from '../millimetre-page.ts';
import { writeEvidencePages } from './evidence-pages.ts';
import { writeManagerPage } from './manager-page.ts';
import { PageFlow } from './page-flow.ts';
import { HAIR_GREY, MARGIN_MM, SMALL, reportDocument } from './report-document.ts';
import { reportPictures } from './report-pictures.ts';
import { pictureStore } from './scaled-picture.ts';

/** Prints reports as tagged PDF/A-3b with the record attached. @param decoder for photos in HEIC */
export function reportPrinter(decoder: PhotoDecoder): ReportPrinter {
  return { print: (request) => print(request, decoder) };
}

async function print({ report, paper, recordText, files }: PrintRequest, decoder: PhotoDecoder): Promise<Uint8Array> {
  const pictures = await reportPictures(report, pictureStore(files, decoder));
  const date = new Date(report.date);
  const doc = reportDocument({ recordId: report.recordId, recordSha256: report.recordSha256, date });
  // `relationship` is missing in the library's types, so the options are not written in place.
  const attachment = {
    name: 'record.json',
    type: 'application/json',
    description: 'The inspection record in canonical JSON, as sealed',
    relationship: 'Source',
    creationDate: date,
    modifiedDate: date,
  };
  doc.file(Buffer.from(recordText), attachment);
  const flow = new PageFlow(doc, paper);
  writeManagerPage(flow, report, pictures);
  writeEvidencePages(flow, report, pictures);
  flow.end();
  writeFooters(doc, paper, report);
  return pdfBytes(doc);
}

function writeFooters(
  doc: PDFKit.PDFDocument,
  paper: PrintRequest['paper'],
  { recordId, title, notices }: Report,
): void {
  const [sheetWidth, sheetHeight] = SHEET_MM[paper];
  const { start, count } = doc.bufferedPageRange();
  const y = sheetHeight - 8;
  for (let page = 0; page < count; page++) {
    doc.switchToPage(start + page);
    doc.markContent('Artifact', { type: 'Pagination', attached: ['Bottom'] });
    doc.rect(MARGIN_MM, y - 4, sheetWidth - 2 * MARGIN_MM, 0.18).fill([...HAIR_GREY]);
    const mark = notices.length === 0 ? '' : `  -  ${notices[0].split(':')[0]}`;
    writeLine(doc, `${title}  -  ${recordId}${mark}`, [MARGIN_MM, y], { ...SMALL, anchor: 'start' });
    writeLine(doc, `page ${page + 1} of ${count}`, [sheetWidth - MARGIN_MM, y], { ...SMALL, anchor: 'end' });
    doc.endMarkedContent();
  }
}
