import type { Report } from '../../../evidence/report/report.ts';
import { INK, fillRectangle, writeLine, writeParagraph } from '../millimetre-page.ts';
import { writeFacts } from './fact-rows.ts';
import { VERDICT_LOOK, drawMark } from './marks.ts';
import type { PageFlow } from './page-flow.ts';
import { drawQrSquare } from './qr-square.ts';
import { BODY, SMALL } from './report-document.ts';
import { writeTable } from './table.ts';

const QR_MM = 26;
const BLOCK_MM = 34;

/** Who answers for it, how it is sealed, and how to check that nothing was changed. */
export function writeSignature(flow: PageFlow, report: Report): void {
  flow.section('Signature and seal', BLOCK_MM + 50);
  writeBlock(flow, report);
  writeFacts(flow, report.signature);
  flow.subheading('Files that the record stands on', 20);
  flow.paragraph(
    'By their SHA-256. The record itself is attached to this document as record.json; photos and class maps are in the bundle.',
    SMALL,
  );
  writeTable(
    flow,
    [
      { title: 'File', part: 0.3 },
      { title: 'SHA-256', part: 0.7 },
    ],
    report.files.map(({ path, sha256 }) => ({
      cells: [
        { text: path, lettering: { ...BODY, sizeMm: 2.7 } },
        { text: sha256, lettering: { ...BODY, sizeMm: 2.7 } },
      ],
    })),
    'close',
  );
}

function writeBlock(flow: PageFlow, { verdict, recordId, qrText }: Report): void {
  const { doc, left, width } = flow;
  const look = VERDICT_LOOK[verdict.mark];
  const top = flow.y;
  flow.artifact(() => {
    fillRectangle(doc, [left, top, width, BLOCK_MM], look.ground);
    fillRectangle(doc, [left, top, 1.4, BLOCK_MM], look.colour);
  });
  flow.tagged('P', () => {
    drawMark(doc, verdict.mark, { x: left + 6, y: top + 5, sizeMm: 9 }, look.colour);
    writeLine(doc, verdict.word, [left + 18.5, top + 11.3], {
      sizeMm: 6,
      weight: 'bold',
      colour: look.colour,
      anchor: 'start',
    });
    const place = { x: left + 18.5, width: width - QR_MM - 32 };
    const y = writeParagraph(doc, verdict.sentence, { ...place, y: top + 14 }, { ...BODY, sizeMm: 3.6 });
    const below = writeParagraph(doc, `Kept as ${recordId}`, { ...place, y: y + 0.8 }, BODY);
    writeParagraph(
      doc,
      'It supports an inspector; it certifies nothing.',
      { ...place, y: below + 0.8 },
      { ...SMALL, colour: INK },
    );
  });
  flow.tagged(
    'Figure',
    () => {
      drawQrSquare(doc, qrText, { x: left + width - QR_MM - 4, y: top + (BLOCK_MM - QR_MM) / 2, sizeMm: QR_MM });
    },
    `QR code: ${qrText}`,
  );
  flow.y = top + BLOCK_MM + 3;
}
