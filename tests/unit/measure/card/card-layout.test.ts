import { converter } from 'culori';
import { describe, expect, it } from 'vitest';
import { PATCH_FAMILIES, referenceCardSchema } from '../../../../server/domain/index.ts';
import type { CardPatch, PatchFamily, RectangleMm } from '../../../../server/domain/index.ts';
import { CURRENT_EDITION, referenceCard } from '../../../../server/measure/card/card-layout.ts';
import { ciede2000 } from '../../../../server/measure/colour/ciede2000.ts';
import { labD50ToSrgb8, srgb8ToLabD50 } from '../../../../server/measure/colour/lab-d50.ts';

const card = referenceCard();
const centre = ({ x, y, width, height }: RectangleMm): [number, number] => [x + width / 2, y + height / 2];
/** White between two rectangles; negative when they overlap. */
function gap(a: RectangleMm, b: RectangleMm): number {
  const across = Math.max(b.x - (a.x + a.width), a.x - (b.x + b.width));
  const down = Math.max(b.y - (a.y + a.height), a.y - (b.y + b.height));
  return Math.max(across, down);
}
const chroma = ({ nominal: { lab } }: CardPatch): number => Math.hypot(lab.a, lab.b);
const hueDegrees = ({ nominal: { lab } }: CardPatch): number => (Math.atan2(lab.b, lab.a) * 180) / Math.PI;
const family = (name: PatchFamily): CardPatch[] => card.patches.filter((patch) => patch.family === name);
const pairs = <T>(items: readonly T[]): [T, T][] =>
  items.flatMap((first, index) => items.slice(index + 1).map((second): [T, T] => [first, second]));

describe('the layout of the reference card', () => {
  it('meets its schema and measures exactly 6 x 4 inches', () => {
    expect(referenceCardSchema.parse(card)).toEqual(card);
    expect(card.widthMm / 25.4).toBeCloseTo(6, 12);
    expect(card.heightMm / 25.4).toBeCloseTo(4, 12);
    expect(card.edition).toBe(CURRENT_EDITION);
  });

  it('has no layout for other editions', () => {
    expect(() => referenceCard(1)).toThrow(RangeError);
  });

  it('has a 21 mm marker of 7 modules, 3 mm from the outline, in each corner', () => {
    expect(card.markers.map(({ corner, area }) => [corner, area.x, area.y])).toEqual([
      ['topLeft', 3, 3],
      ['topRight', 128.4, 3],
      ['bottomRight', 128.4, 77.6],
      ['bottomLeft', 3, 77.6],
    ]);
    for (const { area, modules, payload } of card.markers) {
      expect([area.width, area.height, modules]).toEqual([21, 21, 7]);
      expect(payload.map((row) => row.length)).toEqual([5, 5, 5, 5, 5]);
    }
    expect(new Set(card.markers.map(({ payload }) => payload.join(''))).size).toBe(4);
  });

  it('keeps 3 mm of bare paper between markers and patches, and 2 mm between patches', () => {
    for (const patch of card.patches) {
      expect([patch.area.width, patch.area.height]).toEqual([12, 12]);
      for (const marker of card.markers) expect(gap(patch.area, marker.area)).toBeGreaterThanOrEqual(3 - 1e-9);
    }
    for (const [a, b] of pairs(card.patches)) expect(gap(a.area, b.area)).toBeGreaterThanOrEqual(2 - 1e-9);
  });

  it('names every patch once', () => {
    expect(new Set(card.patches.map(({ id }) => id)).size).toBe(48);
    expect(card.patches.map(({ id }) => id)).toEqual(expect.arrayContaining(['A1', 'F7', 'L1', 'L3', 'R1', 'R3']));
  });

  it('is the same, point for point, each time it is asked for, and shares nothing', () => {
    const second = referenceCard();
    expect(second).toEqual(card);
    expect(second.patches[0].nominal.srgb8).not.toBe(card.patches[0].nominal.srgb8);
  });

  it('puts equal greys at least 50 mm apart', () => {
    const greys = family('neutral');
    expect(greys).toHaveLength(20);
    for (const [a, b] of pairs(greys)) {
      if (a.nominal.lab.L !== b.nominal.lab.L) continue;
      const [ax, ay] = centre(a.area);
      const [bx, by] = centre(b.area);
      expect(Math.hypot(ax - bx, ay - by)).toBeGreaterThan(50);
    }
  });
});

describe('the bare paper of the card', () => {
  it('is listed in areas that lie inside the card, clear of everything printed and of each other', () => {
    const printed = [...card.markers, ...card.patches].map(({ area }) => area);
    for (const area of card.paper.areas) {
      expect(Math.min(area.x, area.y)).toBeGreaterThanOrEqual(0.5);
      expect(area.x + area.width).toBeLessThanOrEqual(card.widthMm - 0.5 + 1e-9);
      expect(area.y + area.height).toBeLessThanOrEqual(card.heightMm - 0.5 + 1e-9);
      for (const other of printed) expect(gap(area, other)).toBeGreaterThanOrEqual(0.5 - 1e-9);
    }
    for (const [a, b] of pairs(card.paper.areas)) expect(gap(a, b)).toBeGreaterThanOrEqual(0);
  });

  it('is wide enough to sample everywhere: 2 mm at least', () => {
    for (const { width, height } of card.paper.areas) expect(Math.min(width, height)).toBeGreaterThanOrEqual(1.99);
  });

  it('is found in every ninth of the card, its middle included', () => {
    const ninths = new Set(
      card.paper.areas.map((area) => {
        const [x, y] = centre(area);
        return `${Math.floor((3 * x) / card.widthMm)},${Math.floor((3 * y) / card.heightMm)}`;
      }),
    );
    expect(ninths.size).toBe(9);
  });
});

describe('the nominal colours', () => {
  it('are drawn with the sRGB code that their Lab rounds to, and have the Lab of that code', () => {
    for (const { nominal } of card.patches) {
      expect(labD50ToSrgb8(nominal.lab)).toEqual(nominal.srgb8);
      const exact = srgb8ToLabD50(nominal.srgb8);
      expect(Math.abs(exact.L - nominal.lab.L)).toBeLessThan(0.006);
      expect(Math.abs(exact.a - nominal.lab.a)).toBeLessThan(0.006);
      expect(Math.abs(exact.b - nominal.lab.b)).toBeLessThan(0.006);
    }
  });

  it('agree with the reference library culori, up to its rounding of the D50 white', () => {
    const toLab = converter('lab');
    for (const { nominal } of card.patches) {
      const [r, g, b] = nominal.srgb8.map((code) => code / 255);
      const theirs = toLab({ mode: 'rgb', r, g, b });
      expect(ciede2000(nominal.lab, { L: theirs.l, a: theirs.a, b: theirs.b })).toBeLessThan(0.05);
    }
  });

  it('count 20 greys, 10 iron oxides, 4 stains, 4 scales, 4 steels and 6 gamut pins', () => {
    expect(PATCH_FAMILIES.map((name) => [name, family(name).length])).toEqual([
      ['neutral', 20],
      ['iron oxide', 10],
      ['stain', 4],
      ['scale', 4],
      ['steel', 4],
      ['gamut', 6],
    ]);
  });

  it('run in seven greys from near-white to the darkest a printer holds, in even steps', () => {
    const levels = [...new Set(family('neutral').map(({ nominal }) => nominal.lab.L))].sort((a, b) => b - a);
    expect(levels).toHaveLength(7);
    expect([levels[0], levels[6]]).toEqual([92, 18]);
    for (let index = 1; index < 7; index++) {
      expect(levels[index - 1] - levels[index]).toBeGreaterThan(11);
      expect(levels[index - 1] - levels[index]).toBeLessThan(14);
    }
  });

  it('cover the reds to yellows of iron oxides', () => {
    const oxides = family('iron oxide');
    const span = (values: number[]): [number, number] => [Math.min(...values), Math.max(...values)];
    const [leastHue, mostHue] = span(oxides.map(hueDegrees));
    const [leastL, mostL] = span(oxides.map(({ nominal }) => nominal.lab.L));
    const [leastC, mostC] = span(oxides.map(chroma));
    expect([leastHue, mostHue].map((hue) => hue >= 25 && hue <= 80)).toEqual([true, true]);
    expect([leastL, mostL].map((L) => L >= 25 && L <= 70)).toEqual([true, true]);
    expect([leastC, mostC].map((C) => C >= 15 && C <= 60)).toEqual([true, true]);
    expect(mostHue - leastHue).toBeGreaterThan(45);
    expect(mostL - leastL).toBeGreaterThan(40);
    expect(mostC - leastC).toBeGreaterThan(40);
  });

  it('hold blue-black scale and nearly colourless steel', () => {
    for (const { nominal } of family('scale')) {
      expect(nominal.lab.L).toBeGreaterThan(20);
      expect(nominal.lab.L).toBeLessThan(38);
      expect(nominal.lab.b).toBeLessThan(-2);
      expect(nominal.lab.b).toBeGreaterThan(-12);
    }
    for (const patch of family('steel')) {
      expect(patch.nominal.lab.L).toBeGreaterThan(45);
      expect(patch.nominal.lab.L).toBeLessThan(75);
      expect(chroma(patch)).toBeLessThan(5);
    }
    expect(family('steel').filter(({ nominal }) => nominal.lab.b > 0)).toHaveLength(2);
  });

  it('can be told apart: different patches differ by more than 3 CIEDE2000', () => {
    for (const [a, b] of pairs(card.patches)) {
      if (a.family === 'neutral' && b.family === 'neutral') continue;
      expect(ciede2000(a.nominal.lab, b.nominal.lab)).toBeGreaterThan(3);
    }
  });

  it('are scattered: no chromatic patch touches its like', () => {
    for (const [a, b] of pairs(card.patches)) {
      const [ax, ay] = centre(a.area);
      const [bx, by] = centre(b.area);
      // Side by side or one above the other; the widest gap in a column is 17 mm from centre to centre.
      const isNeighbour = Math.abs(ax - bx) + Math.abs(ay - by) < 17.5;
      if (!isNeighbour || (a.family === 'neutral' && b.family === 'neutral')) continue;
      expect(a.family).not.toBe(b.family);
      expect(ciede2000(a.nominal.lab, b.nominal.lab)).toBeGreaterThan(20);
    }
  });

  it('centre each chromatic family on the block, so that uneven light is no colour cast', () => {
    for (const name of PATCH_FAMILIES) {
      if (name === 'neutral') continue;
      const places = family(name).map(({ area }) => centre(area));
      const mean = (axis: 0 | 1): number => places.reduce((sum, place) => sum + place[axis], 0) / places.length;
      expect(Math.abs(mean(0) - card.widthMm / 2)).toBeLessThan(7);
      expect(Math.abs(mean(1) - 45.5)).toBeLessThan(7);
    }
  });
});
