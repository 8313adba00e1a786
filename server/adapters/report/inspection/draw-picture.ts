import type { ReportPicture } from '../../../evidence/report/report.ts';
import { INK } from '../millimetre-page.ts';
import type { ScaledPicture } from './scaled-picture.ts';
import { barLength, drawScaleBar } from './scale-bar.ts';
import { HAIR_GREY } from './report-document.ts';
import { worstSquareCorners } from './picture-frame.ts';

type Document = PDFKit.PDFDocument;

export interface PictureBox {
  readonly x: number;
  readonly y: number;
  /** Millimetres of paper for each unit of the frame. */
  readonly paperPerUnit: number;
}

/** Scales that a draughtsman would choose: paper to surface as 1 to one of these. */
const SCALES = [0.5, 1, 1.5, 2, 2.5, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 40, 50, 75, 100, 150, 200];

/** The largest round scale at which a frame fits, as the number after "1:"; without millimetres, whatever just fits. */
export function fittingScale(
  { frame }: Pick<ScaledPicture, 'frame'>,
  room: { readonly widthMm: number; readonly heightMm: number },
): { readonly paperPerUnit: number; readonly words: string | null } {
  const least = Math.max(frame.width / room.widthMm, frame.height / room.heightMm);
  if (frame.unit === 'px') return { paperPerUnit: 1 / least, words: null };
  const tolerance = 1e-9;
  const scale = SCALES.find((candidate) => candidate >= least - tolerance) ?? Math.ceil(least);
  return { paperPerUnit: 1 / scale, words: scale < 1 ? `${1 / scale}:1` : `1:${scale}` };
}

/** Draws a picture and a thin line around the zone. */
export function drawPicture(doc: Document, { jpeg, frame }: ScaledPicture, box: PictureBox): void {
  const { x, y, paperPerUnit } = box;
  doc.image(jpeg, x, y, { width: frame.width * paperPerUnit, height: frame.height * paperPerUnit });
  doc.lineWidth(0.15).strokeColor([...HAIR_GREY]);
  doc.rect(x, y, frame.width * paperPerUnit, frame.height * paperPerUnit).stroke();
  if (frame.zone === null) return;
  outline(doc, frame.zone, box, 0.25);
}

/** The worst square as a line with a light casing, and its name at its upper edge. */
export function drawWorstSquare(
  doc: Document,
  picture: ReportPicture,
  { frame }: ScaledPicture,
  box: PictureBox,
): void {
  if (picture.worstSquare === null || picture.photo.surface === null) return;
  outline(doc, worstSquareCorners(picture.photo.surface, picture.worstSquare).map(frame.fromPlane), box, 0.5);
}

function outline(doc: Document, points: readonly (readonly [number, number])[], box: PictureBox, width: number): void {
  const passes = [
    { lineWidth: width + 0.5, colour: [255, 255, 255] },
    { lineWidth: width, colour: [...INK] },
  ] as const;
  for (const pass of passes) {
    points.forEach(([px, py], at) => {
      const [x, y] = [box.x + px * box.paperPerUnit, box.y + py * box.paperPerUnit];
      if (at === 0) doc.moveTo(x, y);
      else doc.lineTo(x, y);
    });
    doc
      .closePath()
      .lineJoin('miter')
      .lineWidth(pass.lineWidth)
      .strokeColor([...pass.colour])
      .stroke();
  }
}

/** A scale bar below a picture, or the words that there is no scale. */
export function drawBarBelow(doc: Document, { frame }: ScaledPicture, box: PictureBox, unit: 'mm' | 'inch'): void {
  if (frame.unit === 'px') return;
  const { lengthMm, words } = barLength(0.3 * frame.width, unit);
  const y = box.y + frame.height * box.paperPerUnit + 1.6;
  drawScaleBar(doc, { x: box.x, y, paperMm: lengthMm * box.paperPerUnit, words });
}
