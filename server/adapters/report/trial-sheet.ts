import type { TrialPlan } from '../../domain/index.ts';
import { CARD_HEIGHT_MM, CARD_WIDTH_MM } from '../../measure/card/card-grid.ts';
import type { Srgb8 } from '../../measure/card/card-drawing.ts';
import type { PaperSize, TrialPrinter } from '../../services/ports.ts';
import type { Lettering } from './millimetre-page.ts';
import { INK, millimetrePage, pdfBytes, QUIET_INK, SHEET_MM, writeLine, writeParagraph } from './millimetre-page.ts';

type Document = PDFKit.PDFDocument;

export const trialPrinter = (): TrialPrinter => ({ sheet: trialSheet });

const MARGIN_MM = 18;
const BODY: Lettering = { sizeMm: 3.3, weight: 'regular', colour: INK };
const HEADING: Lettering = { sizeMm: 4.2, weight: 'semibold', colour: INK };
const SAFETY_RED: Srgb8 = [178, 32, 32];
/** Most of the page's height that the drawing of the coupon may take. */
const DRAWING_MM = 104;
const ROW_MM = 6.2;

/** Usual cautions with a class 4 laser; they do not replace the site's own rules. Common practice. */
const SAFETY =
  'Class 4 laser and hot work. Take the card away before the laser fires; clear the area, run the extraction, wear eye ' +
  'protection for the wavelength. Let the coupon cool to hand warmth between patches.';

const STEPS =
  'Mark the patches on the coupon. Make them in the order of the table, each from its top to its bottom in one even ' +
  'walk; the line is as wide as the patch. Then lay the card flush as drawn, photograph card and whole coupon squarely ' +
  'in even light, and read the photo with this plan.';

/** One page to take along: where each patch lies, how it is set, in which order, and room to tick it off. */
export function trialSheet(plan: TrialPlan, paper: PaperSize): Promise<Buffer> {
  const doc = millimetrePage(paper, `Trial: ${plan.name}`);
  const width = SHEET_MM[paper][0] - 2 * MARGIN_MM;
  const root = doc.struct('Document');
  doc.addStructure(root);
  const add = (tag: string, draw: () => void, alt?: string): void => {
    root.add(doc.struct(tag, alt === undefined ? {} : { alt }, draw));
  };
  add('H1', () => {
    writeLine(doc, `Trial: ${plan.name}`, [MARGIN_MM, 22], { ...HEADING, sizeMm: 7, anchor: 'start' });
  });
  let top = 28;
  add('P', () => {
    top = writeParagraph(
      doc,
      SAFETY,
      { x: MARGIN_MM, y: top, width },
      { ...BODY, weight: 'semibold', colour: SAFETY_RED },
    );
  });
  add('P', () => {
    top = writeParagraph(doc, [factsOf(plan), STEPS].join(' '), { x: MARGIN_MM, y: top + 2, width }, BODY);
  });
  add(
    'Figure',
    () => {
      top = drawCoupon(doc, plan, { x: MARGIN_MM, y: top + 4, width });
    },
    drawingWords(plan),
  );
  add(
    'Table',
    () => {
      top = drawTable(doc, plan, { x: MARGIN_MM, y: top + 7, width });
    },
    'The patches in the order in which they are made, with power, width, frequency, travel speed and passes of each.',
  );
  plan.cautions.forEach((caution) => {
    add('P', () => {
      top = writeParagraph(doc, caution, { x: MARGIN_MM, y: top + 1.5, width }, { ...BODY, sizeMm: 3 });
    });
  });
  root.end();
  return pdfBytes(doc);
}

function factsOf({ surface, thicknessMm, target, coupon }: TrialPlan): string {
  const plate = `${coupon.widthMm} x ${coupon.heightMm} mm`;
  const metal = thicknessMm === undefined ? '' : `, ${thicknessMm} mm thick`;
  return `Surface: ${surface ?? 'of unknown kind'}${metal}. Coupon ${plate}. Target: at most ${(100 * target.residueFractionMax).toFixed(1)} % residue.`;
}

const drawingWords = ({ coupon, patches }: TrialPlan): string =>
  `A coupon of ${coupon.widthMm} by ${coupon.heightMm} mm with ${patches.length} patches, ${patches[0].widthMm} by ${patches[0].heightMm} mm each, the card above its top left corner.`;

interface Place {
  readonly x: number;
  readonly y: number;
  readonly width: number;
}

function drawCoupon(doc: Document, plan: TrialPlan, { x, y, width }: Place): number {
  const { coupon, couponAtMm, patches } = plan;
  const left = Math.min(0, couponAtMm[0]);
  const right = Math.max(CARD_WIDTH_MM, couponAtMm[0] + coupon.widthMm);
  const bottom = couponAtMm[1] + coupon.heightMm;
  const scale = Math.min(width / (right - left), DRAWING_MM / bottom);
  const at = (px: number, py: number): [number, number] => [x + (px - left) * scale, y + py * scale];
  const box = (px: number, py: number, w: number, h: number): PDFKit.PDFDocument =>
    doc.rect(...at(px, py), w * scale, h * scale);
  box(0, 0, CARD_WIDTH_MM, CARD_HEIGHT_MM)
    .lineWidth(0.25)
    .stroke([...QUIET_INK]);
  writeLine(doc, 'reference card', at(CARD_WIDTH_MM / 2, CARD_HEIGHT_MM / 2), {
    ...BODY,
    colour: QUIET_INK,
    anchor: 'middle',
  });
  box(couponAtMm[0], couponAtMm[1], coupon.widthMm, coupon.heightMm)
    .lineWidth(0.4)
    .stroke([...INK]);
  for (const patch of patches) {
    const [px, py] = [couponAtMm[0] + patch.leftMm, couponAtMm[1] + patch.topMm];
    box(px, py, patch.widthMm, patch.heightMm)
      .lineWidth(0.25)
      .stroke([...INK]);
    const middle = at(px + patch.widthMm / 2, py + patch.heightMm / 2);
    writeLine(doc, patch.name, [middle[0], middle[1] - 0.5], { ...HEADING, anchor: 'middle' });
    writeLine(doc, ordinal(patch.runOrder), [middle[0], middle[1] + 3.6], {
      ...BODY,
      sizeMm: 3,
      anchor: 'middle',
    });
  }
  const dimensions = `Patches ${patches[0].widthMm} x ${patches[0].heightMm} mm, ${coupon.marginMm} mm apart and from the edges; the card lies ${(couponAtMm[1] - CARD_HEIGHT_MM).toFixed(0)} mm above the coupon, left edges in line. Drawn at 1 : ${(1 / scale).toFixed(1)}.`;
  return writeParagraph(
    doc,
    dimensions,
    { x, y: y + bottom * scale + 1.5, width },
    { ...BODY, sizeMm: 3, colour: QUIET_INK },
  );
}

const COLUMNS = [
  ['order', 0],
  ['patch', 0.1],
  ['power', 0.22],
  ['width', 0.36],
  ['frequency', 0.5],
  ['travel', 0.65],
  ['passes', 0.8],
  ['done', 0.92],
] as const;

function drawTable(doc: Document, { patches }: TrialPlan, { x, y, width }: Place): number {
  COLUMNS.forEach(([title, part]) => {
    writeLine(doc, title, [x + part * width, y], { ...BODY, weight: 'semibold', anchor: 'start' });
  });
  const inOrder = [...patches].sort((a, b) => a.runOrder - b.runOrder);
  inOrder.forEach(({ name, runOrder, settings }, index) => {
    const line = y + (index + 1) * ROW_MM;
    doc
      .moveTo(x, line - ROW_MM + 1.8)
      .lineTo(x + width, line - ROW_MM + 1.8)
      .lineWidth(0.15)
      .stroke([...QUIET_INK]);
    const cells = [
      String(runOrder),
      name,
      `${settings.powerW} W`,
      `${settings.scanWidthMm} mm`,
      `${settings.scanFrequencyHz} Hz`,
      `${settings.travelSpeedMmPerS} mm/s`,
      String(settings.passes),
    ];
    cells.forEach((cell, column) => {
      writeLine(doc, cell, [x + COLUMNS[column][1] * width, line], { ...BODY, anchor: 'start' });
    });
    doc
      .rect(x + 0.93 * width, line - 3.2, 3.6, 3.6)
      .lineWidth(0.25)
      .stroke([...INK]);
  });
  return y + inOrder.length * ROW_MM + 3;
}

/** 1st, 2nd, 3rd, 4th, ... */
function ordinal(place: number): string {
  const last = place % 10;
  const isTeen = Math.floor(place / 10) % 10 === 1;
  const ending = isTeen ? 'th' : (['th', 'st', 'nd', 'rd'][last] ?? 'th');
  return `${place}${ending}`;
}
