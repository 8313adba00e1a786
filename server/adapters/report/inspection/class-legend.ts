import type { SurfaceClass } from '../../../domain/index.ts';
import type { ShareLine } from '../../../evidence/report/report.ts';
import type { Srgb8 } from '../../../measure/card/card-drawing.ts';
import { INK, QUIET_INK, writeLine } from '../millimetre-page.ts';
import { CLASS_LOOKS } from '../overlay/class-look.ts';

type Document = PDFKit.PDFDocument;
type Box = readonly [x: number, y: number, width: number, height: number];

const BARE_GROUND: Srgb8 = [214, 217, 219];
const GROUND: Srgb8 = [236, 238, 239];
const PATTERN_MM = 1.1;

/** Fills a box as the class looks in the class pictures: the same colour and the same pattern, drawn in lines. */
function fillAsClass(doc: Document, name: SurfaceClass | 'notMeasured', box: Box): void {
  const [x, y, width, height] = box;
  doc.rect(x, y, width, height).fill([...(name === 'bare' ? BARE_GROUND : GROUND)]);
  if (name !== 'bare') {
    doc.save();
    doc.rect(x, y, width, height).clip();
    drawPattern(doc, name, box);
    doc.restore();
  }
  doc.lineWidth(0.15).strokeColor([90, 94, 98]).rect(x, y, width, height).stroke();
}

function drawPattern(doc: Document, name: keyof typeof CLASS_LOOKS, [x, y, width, height]: Box): void {
  const colour = [...CLASS_LOOKS[name].colour] as [number, number, number];
  const step = PATTERN_MM;
  doc.strokeColor(colour).lineCap('butt');
  const columns = Math.ceil(width / step) + 1;
  const rows = Math.ceil(height / step) + 1;
  switch (name) {
    case 'rust': {
      doc.lineWidth(step / 3.7);
      const count = Math.ceil((width + height) / step) + 1;
      for (let k = 0; k < count; k++) doc.moveTo(x + k * step, y).lineTo(x + k * step - height, y + height);
      doc.stroke();
      break;
    }
    case 'scale':
      doc.lineWidth(step / 3);
      for (let k = 0; k < rows / 0.8; k++) {
        doc.moveTo(x, y + (k + 0.2) * 0.8 * step).lineTo(x + width, y + (k + 0.2) * 0.8 * step);
      }
      doc.stroke();
      break;
    case 'coating':
      doc.lineWidth(step / 4);
      for (let k = 0; k < rows; k++) doc.moveTo(x, y + (k + 0.13) * step).lineTo(x + width, y + (k + 0.13) * step);
      for (let k = 0; k < columns; k++) doc.moveTo(x + (k + 0.13) * step, y).lineTo(x + (k + 0.13) * step, y + height);
      doc.stroke();
      break;
    case 'stain':
      for (let row = 0; row < rows; row++) {
        for (let k = 0; k < columns; k++) {
          doc.circle(x + (k + (row % 2) / 2) * step, y + (row + 0.5) * step, step / 4.2);
        }
      }
      doc.fillAndStroke(colour, [120, 110, 20]);
      break;
    case 'notMeasured':
      for (let row = 0; row < 2 * rows; row++) {
        for (let k = 0; k < columns; k++) {
          doc.rect(x + (k + (row % 2) / 2) * step, y + (row * step) / 2, step / 2, step / 2);
        }
      }
      doc.fill(colour);
  }
}

const SWATCH_MM = { width: 8.5, height: 5.6 } as const;
export const LEGEND_HEIGHT_MM = 8;

/** A swatch for each class with its share and interval, in one row. */
export function drawLegend(
  doc: Document,
  shares: readonly ShareLine[],
  place: { readonly x: number; readonly y: number; readonly width: number },
): void {
  const step = place.width / shares.length;
  shares.forEach(({ name, after }, at) => {
    const x = place.x + at * step;
    fillAsClass(doc, name, [x, place.y, SWATCH_MM.width, SWATCH_MM.height]);
    const left = x + SWATCH_MM.width + 1.6;
    writeLine(doc, name, [left, place.y + 2.3], { sizeMm: 2.9, weight: 'semibold', colour: INK, anchor: 'start' });
    writeLine(doc, after.text, [left, place.y + 5.4], {
      sizeMm: 2.3,
      weight: 'regular',
      colour: QUIET_INK,
      anchor: 'start',
    });
  });
}

/** One bar for a surface: the shares of all classes side by side. */
export function drawShareBar(
  doc: Document,
  shares: readonly { readonly name: SurfaceClass; readonly share: number }[],
  [x, y, width, height]: Box,
): void {
  const total = shares.reduce((sum, { share }) => sum + share, 0);
  let left = x;
  for (const { name, share } of shares) {
    const part = total === 0 ? 0 : (share / total) * width;
    if (part > 0) fillAsClass(doc, name, [left, y, part, height]);
    left += part;
  }
}
