import type { GradeDecision } from '../../../domain/index.ts';
import type { ReportVerdict } from '../../../evidence/report/report.ts';
import type { Srgb8 } from '../../../measure/card/card-drawing.ts';
import { STEEL_BLUE } from './report-document.ts';

/** Dark enough to read on white (contrast above 4.5 to 1), and never the only sign: each comes with a shape and a word. */
const GREEN: Srgb8 = [24, 104, 62];
const RED: Srgb8 = [165, 38, 28];
export const AMBER: Srgb8 = [138, 88, 0];

export const DECISION_COLOUR: Readonly<Record<GradeDecision, Srgb8>> = {
  meets: GREEN,
  'does not meet': RED,
  'cannot tell': AMBER,
};

export const VERDICT_LOOK: Readonly<Record<ReportVerdict['mark'], { colour: Srgb8; ground: Srgb8 }>> = {
  tick: { colour: GREEN, ground: [234, 244, 238] },
  cross: { colour: RED, ground: [250, 237, 234] },
  pen: { colour: STEEL_BLUE, ground: [236, 241, 245] },
};

const DECISION_MARK = { meets: 'tick', 'does not meet': 'cross', 'cannot tell': 'question' } as const;

export interface MarkPlace {
  readonly x: number;
  readonly y: number;
  readonly sizeMm: number;
}

export function drawDecision(doc: PDFKit.PDFDocument, decision: GradeDecision, place: MarkPlace): void {
  drawMark(doc, DECISION_MARK[decision], place, DECISION_COLOUR[decision]);
}

/** A white sign on a round ground; the shape alone tells which. */
export function drawMark(
  doc: PDFKit.PDFDocument,
  mark: ReportVerdict['mark'] | 'question',
  { x, y, sizeMm: s }: MarkPlace,
  colour: Srgb8,
): void {
  doc.circle(x + s / 2, y + s / 2, s / 2).fill([...colour]);
  doc
    .lineWidth(0.12 * s)
    .lineCap('round')
    .lineJoin('round')
    .strokeColor([255, 255, 255]);
  const at = (u: number, v: number): [number, number] => [x + u * s, y + v * s];
  switch (mark) {
    case 'tick':
      doc
        .moveTo(...at(0.28, 0.53))
        .lineTo(...at(0.44, 0.69))
        .lineTo(...at(0.73, 0.34))
        .stroke();
      break;
    case 'cross':
      doc
        .moveTo(...at(0.32, 0.32))
        .lineTo(...at(0.68, 0.68))
        .stroke();
      doc
        .moveTo(...at(0.68, 0.32))
        .lineTo(...at(0.32, 0.68))
        .stroke();
      break;
    case 'pen':
      doc
        .moveTo(...at(0.3, 0.7))
        .lineTo(...at(0.66, 0.34))
        .stroke();
      break;
    case 'question':
      doc.moveTo(...at(0.37, 0.4)).bezierCurveTo(...at(0.36, 0.22), ...at(0.64, 0.22), ...at(0.63, 0.42));
      doc.bezierCurveTo(...at(0.62, 0.52), ...at(0.5, 0.5), ...at(0.5, 0.6)).stroke();
      doc.circle(...at(0.5, 0.75), 0.06 * s).fill([255, 255, 255]);
  }
}
