import { inflateSync } from 'node:zlib';
import { beforeAll, describe, expect, it } from 'vitest';
import { cardPdf } from '../../../../server/adapters/report/card-pdf.ts';
import { referenceCard } from '../../../../server/measure/card/card-layout.ts';

const card = referenceCard();

/** All streams of a document that inflate, as text: the page's drawing among them. */
function streamsOf(pdf: Buffer): string {
  const found: string[] = [];
  let at = pdf.indexOf('stream\n');
  while (at >= 0) {
    const end = pdf.indexOf('endstream', at);
    try {
      found.push(inflateSync(pdf.subarray(at + 7, end)).toString('latin1'));
    } catch {
      // Metadata is stored as it is.
    }
    at = pdf.indexOf('stream\n', end + 9);
  }
  return found.join('\n');
}

interface DrawnRectangle {
  readonly frame: readonly [x: number, y: number, width: number, height: number];
  /** 8-bit code of the fill that follows; null when none follows at once. */
  readonly colour: string | null;
}

/** Rectangles (`x y width height re`) of the page, in its unit, with the fill colour (`r g b scn`, `f`) after them. */
const rectanglesOf = (drawing: string): DrawnRectangle[] =>
  [
    ...drawing.matchAll(
      /(-?[\d.]+) (-?[\d.]+) ([\d.]+) ([\d.]+) re\n(?:\/DeviceRGB cs\n([\d.]+) ([\d.]+) ([\d.]+) scn\nf\n)?/g,
    ),
  ].map((match) => ({
    frame: [Number(match[1]), Number(match[2]), Number(match[3]), Number(match[4])],
    colour:
      match.at(5) === undefined
        ? null
        : match
            .slice(5, 8)
            .map((part) => Math.round(255 * Number(part)))
            .join(),
  }));

describe.each([
  ['a4', 210, 297],
  ['letter', 215.9, 279.4],
] as const)('the card as a PDF on %s', (paper, sheetWidthMm, sheetHeightMm) => {
  let pdf: Buffer;
  let file: string;
  let drawing: string;
  beforeAll(async () => {
    pdf = await cardPdf(card, paper);
    file = pdf.toString('latin1');
    drawing = streamsOf(pdf);
  });

  it('is one page of the right size', () => {
    expect(file.startsWith('%PDF-1.7')).toBe(true);
    expect(file.match(/\/Type \/Page\b/g)).toHaveLength(1);
    const box = /\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/.exec(file);
    expect(Number(box?.[1])).toBeCloseTo((sheetWidthMm / 25.4) * 72, 1);
    expect(Number(box?.[2])).toBeCloseTo((sheetHeightMm / 25.4) * 72, 1);
  });

  it('is drawn in millimetres: one scale of 72 / 25.4 and no other', () => {
    expect(drawing).toContain('2.834646 0 0 2.834646 0 0 cm');
    expect(drawing.match(/2\.834646/g)).toHaveLength(2);
  });

  it('has the card in the middle of the sheet, each patch in place, in size and in colour', () => {
    const rectangles = rectanglesOf(drawing);
    const left = (sheetWidthMm - card.widthMm) / 2;
    const top = (sheetHeightMm - card.heightMm) / 2;
    for (const { area, nominal } of card.patches) {
      const place = [left + area.x, top + area.y, area.width, area.height];
      const drawn = rectangles.filter(({ frame }) => frame.every((value, at) => Math.abs(value - place[at]) < 1e-3));
      expect(drawn.map(({ colour }) => colour)).toEqual([nominal.srgb8.join()]);
    }
  });

  it('has a check ruler of exactly 100 mm with a tick for each millimetre', () => {
    const frames = rectanglesOf(drawing).map(({ frame }) => frame);
    const [x, y] = frames.find(([, , width]) => width === 100) ?? [0, 0];
    const ticks = frames.filter((frame) => frame[2] === 0.18 && Math.abs(frame[1] + frame[3] - y - 0.1) < 1e-3);
    expect(ticks).toHaveLength(101);
    expect(Math.min(...ticks.map((tick) => tick[0]))).toBeCloseTo(x, 3);
    expect(Math.max(...ticks.map((tick) => tick[0] + 0.18))).toBeCloseTo(x + 100, 3);
  });

  it('embeds its letters and uses no font of the reader', () => {
    expect(file.match(/\/FontFile2 /g)).toHaveLength(3);
    expect(file).toContain('Barlow-Regular');
    expect(file).not.toContain('Helvetica');
  });

  it('is tagged, titled and marked as English', () => {
    expect(file).toContain('/Lang (en)');
    expect(file).toContain('/Marked true');
    expect(file).toContain('/DisplayDocTitle true');
    expect(file).toContain('(Bareplate reference card, edition 0)');
    expect(file.match(/\/S \/Figure/g)).toHaveLength(3);
  });

  it('has the same bytes each time', async () => {
    expect((await cardPdf(card, paper)).equals(pdf)).toBe(true);
  });

  it('takes another title', async () => {
    const other = await cardPdf(card, paper, { title: 'Card of the rudder stock' });
    expect(other.toString('latin1')).toContain('(Card of the rudder stock)');
  });
});
