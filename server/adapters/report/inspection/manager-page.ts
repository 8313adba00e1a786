import type { KeyFigure, Report, ReportFact } from '../../../evidence/report/report.ts';
import { INK, QUIET_INK, fillRectangle, writeLine, writeParagraph } from '../millimetre-page.ts';
import { drawLegend, drawShareBar } from './class-legend.ts';
import { drawBarBelow, drawPicture, drawWorstSquare, fittingScale } from './draw-picture.ts';
import { keepUnits } from './keep-units.ts';
import { AMBER, DECISION_COLOUR, VERDICT_LOOK, drawDecision, drawMark } from './marks.ts';
import type { PageFlow } from './page-flow.ts';
import { drawQrSquare } from './qr-square.ts';
import { BODY, BODY_STRONG, HAIR_GREY, SMALL, STEEL_BLUE } from './report-document.ts';
import type { ReportPictures } from './report-pictures.ts';
import type { ScaledPicture } from './scaled-picture.ts';

const QR_MM = 22;
const GAP_MM = 6;

/** The page that a manager reads: verdict, pictures, figures, what was done, what to mind. */
export function writeManagerPage(flow: PageFlow, report: Report, pictures: ReportPictures): void {
  writeHead(flow, report);
  writeVerdict(flow, report);
  writePictures(flow, report, pictures);
  writeFigures(flow, report.figures);
  writeShares(flow, report);
  writeSummary(flow, report);
  writeShortFacts(flow, report.facts);
}

function writeHead(flow: PageFlow, report: Report): void {
  const { doc, left, width } = flow;
  const textWidth = width - QR_MM - GAP_MM;
  const top = flow.y;
  flow.tagged('P', () => {
    doc
      .font('semibold')
      .fontSize(2.7)
      .fillColor([...STEEL_BLUE]);
    doc.text('INSPECTION RECORD', left, top, { characterSpacing: 0.45, lineBreak: false });
  });
  flow.y = top + 5;
  flow.tagged('H1', () => {
    flow.y = writeParagraph(
      doc,
      report.title,
      { x: left, y: flow.y, width: textWidth },
      { sizeMm: 8, weight: 'bold', colour: INK },
    );
  });
  flow.tagged('P', () => {
    flow.y = writeParagraph(
      doc,
      report.subtitle,
      { x: left, y: flow.y + 0.4, width: textWidth },
      { ...BODY, sizeMm: 3.8, colour: QUIET_INK },
    );
  });
  for (const notice of report.notices) {
    flow.tagged('P', () => {
      flow.y = writeParagraph(
        doc,
        notice,
        { x: left, y: flow.y + 0.6, width: textWidth },
        { ...BODY_STRONG, sizeMm: 3, colour: AMBER },
      );
    });
  }
  flow.tagged(
    'Figure',
    () => {
      drawQrSquare(doc, report.qrText, { x: left + width - QR_MM, y: top, sizeMm: QR_MM });
    },
    `QR code: ${report.qrText}`,
  );
  flow.y = Math.max(flow.y, top + QR_MM) + 3.5;
}

function writeVerdict(flow: PageFlow, { verdict, asked, askedCorrected, askedWords }: Report): void {
  const { doc, left, width } = flow;
  const look = VERDICT_LOOK[verdict.mark];
  const half = width / 2;
  const reasonWidth = half - 24;
  const reason = verdict.reason === null ? 0 : flow.heightOf(`Reason: ${verdict.reason}`, BODY, reasonWidth);
  const height = Math.max(askedCorrected === null ? 20 : 24.4, 17 + reason);
  const top = flow.y;
  flow.artifact(() => {
    fillRectangle(doc, [left, top, width, height], look.ground);
    fillRectangle(doc, [left, top, 1.4, height], look.colour);
    fillRectangle(doc, [left + half, top + 3.5, 0.2, height - 7], HAIR_GREY);
  });
  flow.tagged('P', () => {
    drawMark(doc, verdict.mark, { x: left + 6, y: top + 4.2, sizeMm: 11 }, look.colour);
    writeLine(doc, verdict.word, [left + 20.5, top + 10], {
      sizeMm: 6.6,
      weight: 'bold',
      colour: look.colour,
      anchor: 'start',
    });
    const below = writeParagraph(
      doc,
      verdict.sentence,
      { x: left + 20.5, y: top + 11.8, width: reasonWidth },
      { ...SMALL, colour: INK },
    );
    if (verdict.reason !== null) {
      writeParagraph(doc, `Reason: ${verdict.reason}`, { x: left + 20.5, y: below + 0.4, width: reasonWidth }, BODY);
    }
  });
  flow.tagged('P', () => {
    const x = left + half + 6;
    writeLine(doc, 'Asked for', [x, top + 6], { ...SMALL, anchor: 'start' });
    writeLine(doc, askedWords, [x, top + 10.6], { ...BODY_STRONG, sizeMm: 3.7, anchor: 'start' });
    if (asked === null) {
      writeLine(doc, 'not among the grades compared', [x, top + 15.4], { ...BODY, anchor: 'start' });
      return;
    }
    const lines = [
      { word: 'measurement', decision: asked.decision },
      ...(askedCorrected === null ? [] : [{ word: 'corrected by hand', decision: askedCorrected.decision }]),
    ];
    lines.forEach(({ word, decision }, at) => {
      const y = top + 15.3 + at * 5;
      drawDecision(doc, decision, { x, y: y - 3.2, sizeMm: 4.2 });
      const lettering = { ...BODY_STRONG, colour: DECISION_COLOUR[decision] };
      writeLine(doc, `${word}: ${decision}`, [x + 5.8, y], { ...lettering, anchor: 'start' });
    });
  });
  flow.y = top + height + 4.5;
}

function writePictures(flow: PageFlow, report: Report, { before, after }: ReportPictures): void {
  const column = before === null ? flow.width : (flow.width - GAP_MM) / 2;
  const room = { widthMm: column, heightMm: flow.paper === 'a4' ? 68 : 60 };
  const shown = before === null || report.before === null ? [] : [{ picture: report.before, scaled: before }];
  const all = [...shown, { picture: report.after, scaled: after }];
  // Both at one scale, so that they can be compared.
  const scales = all.map(({ scaled }) => fittingScale(scaled, room));
  const smallest = scales.reduce((least, scale) => (scale.paperPerUnit < least.paperPerUnit ? scale : least));
  const isOneUnit = new Set(all.map(({ scaled }) => scaled.frame.unit)).size === 1;
  const top = flow.y;
  let deepest = 0;
  all.forEach(({ picture, scaled }, at) => {
    const scale = isOneUnit ? smallest : scales[at];
    const x = flow.left + at * (column + GAP_MM);
    const bottom = writePicture(flow, { report, picture, scaled }, { x, y: top, ...scale });
    deepest = Math.max(deepest, bottom);
  });
  flow.y = deepest + 4;
}

export function writePicture(
  flow: PageFlow,
  { report, picture, scaled }: { report: Report; picture: Report['after']; scaled: ScaledPicture },
  box: { readonly x: number; readonly y: number; readonly paperPerUnit: number; readonly words: string | null },
): number {
  const { doc } = flow;
  const { frame } = scaled;
  const scale = box.words === null ? 'no scale: no card in view' : `scale ${box.words}`;
  flow.tagged('Caption', () => {
    writeLine(doc, picture.title, [box.x, box.y + 2.8], { ...BODY_STRONG, anchor: 'start' });
    const end = box.x + frame.width * box.paperPerUnit;
    writeLine(doc, scale, [end, box.y + 2.8], { ...SMALL, anchor: 'end' });
  });
  const at = { x: box.x, y: box.y + 4.2, paperPerUnit: box.paperPerUnit };
  flow.tagged(
    'Figure',
    () => {
      drawPicture(doc, scaled, at);
      drawWorstSquare(doc, picture, scaled, at);
      drawBarBelow(doc, scaled, at, report.lengthUnit);
    },
    picture.description,
  );
  return at.y + frame.height * box.paperPerUnit + 4;
}

function writeFigures(flow: PageFlow, figures: readonly KeyFigure[]): void {
  const { doc, left, width } = flow;
  const column = width / figures.length;
  const top = flow.y;
  flow.hairline(top);
  figures.forEach(({ label, value, note }, at) => {
    const x = left + at * column + (at === 0 ? 0 : 3);
    if (at > 0) {
      flow.artifact(() => {
        fillRectangle(doc, [left + at * column, top + 3, 0.18, 13], HAIR_GREY);
      });
    }
    flow.tagged('P', () => {
      writeLine(doc, label, [x, top + 5.2], { ...SMALL, sizeMm: 2.9, anchor: 'start' });
      writeLine(doc, value, [x, top + 12], { sizeMm: 7, weight: 'bold', colour: INK, anchor: 'start' });
      writeLine(doc, note, [x, top + 16], { ...SMALL, anchor: 'start' });
    });
  });
  flow.hairline(top + 18.5);
  flow.y = top + 22;
}

function writeShares(flow: PageFlow, { shares }: Report): void {
  const { doc, left, width } = flow;
  const bars = [
    {
      word: 'before',
      parts: shares.map(({ name, before }) => ({ name, share: before?.share ?? null, text: before?.text })),
    },
    { word: 'after', parts: shares.map(({ name, after }) => ({ name, share: after.share, text: after.text })) },
  ];
  for (const { word, parts } of bars) {
    const known = parts.flatMap(({ name, share }) => (share === null ? [] : [{ name, share }]));
    if (known.length === 0) continue;
    const words = parts.map(({ name, text }) => `${name} ${text ?? ''}`).join(', ');
    const top = flow.y;
    flow.tagged(
      'Figure',
      () => {
        writeLine(doc, word, [left, top + 3.5], { ...BODY, anchor: 'start' });
        drawShareBar(doc, known, [left + 14, top, width - 14, 5]);
      },
      `Shares ${word}: ${words}.`,
    );
    flow.y = top + 6.6;
  }
  const top = flow.y + 0.6;
  flow.tagged('P', () => {
    drawLegend(doc, shares, { x: left, y: top, width });
  });
  flow.y = top + 9.5;
}

function writeSummary(flow: PageFlow, { summary, cautions }: Report): void {
  const { left, width, doc } = flow;
  const column = (width - GAP_MM) / 2;
  const top = flow.y;
  const write = (title: string, sentences: readonly string[], x: number): number => {
    let y = top;
    flow.tagged('H2', () => {
      y = writeParagraph(doc, title, { x, y, width: column }, { ...BODY_STRONG, colour: STEEL_BLUE }) + 0.6;
    });
    for (const sentence of sentences) {
      flow.tagged('P', () => {
        y = writeParagraph(doc, keepUnits(sentence), { x, y, width: column }, { ...BODY, sizeMm: 2.9 }) + 0.9;
      });
    }
    return y;
  };
  const first = write('In short', summary, left);
  const second = write('Mind', cautions.slice(0, 3), left + column + GAP_MM);
  flow.y = Math.max(first, second) + 2;
}

/** Facts in two columns, as far as the page has room; all of them stand on the pages after it as well. */
function writeShortFacts(flow: PageFlow, facts: readonly ReportFact[]): void {
  const { left, width, doc } = flow;
  const column = (width - GAP_MM) / 2;
  const labelWidth = 22;
  flow.hairline(flow.y);
  flow.y += 2;
  for (let row = 0; row < facts.length; row += 2) {
    const pair = facts.slice(row, row + 2);
    const lettering = { ...BODY, sizeMm: 2.9 };
    const words = ({ value, note }: ReportFact): string => keepUnits(note === undefined ? value : `${value}; ${note}`);
    const height = Math.max(...pair.map((fact) => flow.heightOf(words(fact), lettering, column - labelWidth)));
    if (flow.room < height) return;
    const top = flow.y;
    pair.forEach((fact, at) => {
      const x = left + at * (column + GAP_MM);
      flow.tagged('P', () => {
        writeParagraph(doc, fact.label, { x, y: top, width: labelWidth }, { ...lettering, colour: QUIET_INK });
        writeParagraph(doc, words(fact), { x: x + labelWidth, y: top, width: column - labelWidth }, lettering);
      });
    });
    flow.y = top + height + 1;
  }
}
