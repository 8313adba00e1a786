import { describe, expect, it } from 'vitest';
import type { RectangleMm } from '../../../../server/domain/index.ts';
import { textWidth } from '../../../../server/adapters/report/letter-shapes.ts';
import { drawCard } from '../../../../server/measure/card/card-drawing.ts';
import type { FillShape, TextShape } from '../../../../server/measure/card/card-drawing.ts';
import { referenceCard } from '../../../../server/measure/card/card-layout.ts';

const card = referenceCard();
const shapes = drawCard(card);
const fills = shapes.filter((shape): shape is FillShape => shape.kind === 'fill');
const texts = shapes.filter((shape): shape is TextShape => shape.kind === 'text');
const overlap = (a: RectangleMm, b: RectangleMm): number =>
  Math.max(0, Math.min(a.x + a.width, b.x + b.width) - Math.max(a.x, b.x)) *
  Math.max(0, Math.min(a.y + a.height, b.y + b.height) - Math.max(a.y, b.y));

/** From the top of the capitals to the foot of the descenders (0.7 and 0.2 em in this typeface). */
function boxOf(text: TextShape): RectangleMm {
  const width = textWidth(text.text, text);
  const left = text.at[0] - { start: 0, middle: width / 2, end: width }[text.anchor];
  return { x: left, y: text.at[1] - 0.75 * text.sizeMm, width, height: 0.95 * text.sizeMm };
}

describe('drawing the card', () => {
  it('draws every patch once, in its nominal colour', () => {
    for (const { area, nominal } of card.patches) {
      const drawn = fills.filter((fill) => fill.areas.length === 1 && fill.areas[0] === area);
      expect(drawn.map(({ colour }) => colour)).toEqual([nominal.srgb8]);
    }
  });

  it('draws every marker as a black square with its white cells', () => {
    for (const { area, payload } of card.markers) {
      const at = fills.findIndex((fill) => fill.areas[0] === area);
      expect(fills[at].colour).toEqual([0, 0, 0]);
      const white = fills[at + 1];
      expect(white.colour).toEqual([255, 255, 255]);
      payload.forEach((cells, row) => {
        Array.from(cells).forEach((cell, column) => {
          const x = area.x + 3 * (column + 1) + 1.5;
          const y = area.y + 3 * (row + 1) + 1.5;
          const isWhite = white.areas.some((a) => x > a.x && x < a.x + a.width && y > a.y && y < a.y + a.height);
          expect(isWhite).toBe(cell === '1');
        });
      });
    }
  });

  it('stays inside the outline, and paints areas of one shape side by side, never over each other', () => {
    for (const { areas } of fills) {
      for (const { x, y, width, height } of areas) {
        expect(Math.min(x, y)).toBeGreaterThanOrEqual(0);
        expect(x + width).toBeLessThanOrEqual(card.widthMm + 1e-9);
        expect(y + height).toBeLessThanOrEqual(card.heightMm + 1e-9);
      }
      areas.forEach((a, index) => {
        for (const b of areas.slice(index + 1)) expect(overlap(a, b)).toBeLessThan(1e-9);
      });
    }
  });

  it('keeps letters off patches, bare paper, quiet zones and other letters', () => {
    const quiet = card.markers.map(({ area }) => ({ x: area.x - 3, y: area.y - 3, width: 27, height: 27 }));
    const kept = [...card.patches.map(({ area }) => area), ...card.paper.areas, ...quiet];
    texts.forEach((text, index) => {
      const box = boxOf(text);
      for (const area of kept) expect(overlap(box, area), text.text).toBe(0);
      for (const other of texts.slice(index + 1)) expect(overlap(box, boxOf(other)), text.text).toBe(0);
    });
  });

  it('keeps bare paper bare', () => {
    for (const fill of fills) {
      if (fill.colour.every((code) => code === 255)) continue;
      for (const area of fill.areas) for (const paper of card.paper.areas) expect(overlap(area, paper)).toBe(0);
    }
  });

  it('says what it is, how to print it, and not to leave it under the beam', () => {
    const words = texts.map(({ text }) => text).join(' ');
    expect(words).toContain('Bareplate reference card');
    expect(words).toContain('edition 0');
    expect(words).toContain('Do not leave on the zone while the laser fires.');
    expect(words).toContain('Print at 100 %');
  });

  it('has a scale whose ticks stand exactly one millimetre apart', () => {
    const ticks = fills.find(({ areas }) => areas.length > 90)?.areas ?? [];
    expect(ticks).toHaveLength(96);
    ticks.forEach(({ x }, mm) => {
      expect(x - ticks[0].x).toBeCloseTo(mm, 9);
    });
  });
});
