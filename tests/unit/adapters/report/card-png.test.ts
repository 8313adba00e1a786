import sharp from 'sharp';
import { beforeAll, describe, expect, it } from 'vitest';
import { CARD_PNG_DPI, cardPng } from '../../../../server/adapters/report/card-png.ts';
import type { RectangleMm } from '../../../../server/domain/index.ts';
import { referenceCard } from '../../../../server/measure/card/card-layout.ts';
import { decodeSrgb, encodeSrgb } from '../../../../server/measure/colour/srgb.ts';

const card = referenceCard();

interface Picture {
  readonly width: number;
  readonly height: number;
  readonly dpi: number;
  readonly data: Uint8Array;
}

async function picture(dpi: number): Promise<Picture> {
  const { data, info } = await sharp(await cardPng(card, dpi))
    .raw()
    .toBuffer({ resolveWithObject: true });
  expect(info.channels).toBe(3);
  return { width: info.width, height: info.height, dpi, data };
}

const codeAt = ({ data, width }: Picture, column: number, row: number): number[] => [
  ...data.subarray(3 * (row * width + column), 3 * (row * width + column) + 3),
];

/** All colours of the pixels that lie wholly inside an area. */
function coloursInside(shot: Picture, area: RectangleMm): Set<string> {
  const scale = shot.dpi / 25.4;
  const seen = new Set<string>();
  for (let row = Math.ceil(area.y * scale - 1e-6); row < Math.floor((area.y + area.height) * scale + 1e-6); row++) {
    for (let x = Math.ceil(area.x * scale - 1e-6); x < Math.floor((area.x + area.width) * scale + 1e-6); x++) {
      seen.add(codeAt(shot, x, row).join(','));
    }
  }
  return seen;
}

/** Mean of the green light over the picture's columns and rows that a marker and its quiet zone take. */
function meanLight(shot: Picture, inches: { x: number; y: number; side: number }): number {
  let sum = 0;
  let count = 0;
  for (let row = inches.y * shot.dpi; row < (inches.y + inches.side) * shot.dpi; row++) {
    for (let column = inches.x * shot.dpi; column < (inches.x + inches.side) * shot.dpi; column++) {
      sum += decodeSrgb(codeAt(shot, column, row)[1] / 255);
      count++;
    }
  }
  return sum / count;
}

describe('the card as a PNG', () => {
  let at300: Picture;
  let at100: Picture;
  beforeAll(async () => {
    at300 = await picture(300);
    at100 = await picture(100);
  });

  it.each([72, 101, 300])('is exactly the outline at %i dpi', async (dpi) => {
    const shot = await picture(dpi);
    expect([shot.width, shot.height]).toEqual([6 * dpi, 4 * dpi]);
  });

  it('carries its resolution in pixels per metre', async () => {
    const bytes = await cardPng(card, 300);
    // Source: PNG specification (ISO/IEC 15948), chunk pHYs: two 32-bit counts and the unit, 1 for the metre.
    const chunk = bytes.indexOf('pHYs') + 4;
    expect(bytes.readUInt32BE(chunk)).toBe(Math.round(300 / 0.0254));
    expect(bytes.readUInt32BE(chunk + 4)).toBe(Math.round(300 / 0.0254));
    expect(bytes[chunk + 8]).toBe(1);
  });

  it('fills every patch flat with exactly its nominal code', () => {
    for (const shot of [at300, at100]) {
      for (const { area, nominal } of card.patches) {
        expect([...coloursInside(shot, area)]).toEqual([nominal.srgb8.join(',')]);
      }
    }
  });

  it('leaves bare paper pure white', () => {
    for (const area of card.paper.areas) expect([...coloursInside(at300, area)]).toEqual(['255,255,255']);
  });

  it('shows each marker cell black or white', () => {
    const scale = 300 / 25.4;
    for (const { area, payload } of card.markers) {
      for (let row = 0; row < 7; row++) {
        for (let column = 0; column < 7; column++) {
          const isFrame = row === 0 || row === 6 || column === 0 || column === 6;
          const isWhite = !isFrame && payload[row - 1][column - 1] === '1';
          const x = Math.floor((area.x + 3 * column + 1.5) * scale);
          const y = Math.floor((area.y + 3 * row + 1.5) * scale);
          expect(codeAt(at300, x, y)[1]).toBe(isWhite ? 255 : 0);
        }
      }
    }
  });

  it('gives a pixel on an edge the light of what covers it', () => {
    // Left edge of the top left marker: 3 mm x 300 / 25.4 = 35.433 px, so column 35 is 0.567 black and 0.433 white.
    const share = 36 - (3 * 300) / 25.4;
    const expected = Math.round(255 * encodeSrgb(1 - share));
    expect(Math.abs(codeAt(at300, 35, 100)[1] - expected)).toBeLessThanOrEqual(1);
    expect(codeAt(at300, 34, 100)[1]).toBe(255);
    expect(codeAt(at300, 36, 100)[1]).toBe(0);
  });

  it('sends the same light whatever the resolution', () => {
    // A marker with its quiet zone and a row of patches, cut at whole tenths of an inch.
    for (const place of [
      { x: 0, y: 0, side: 1 },
      { x: 2, y: 0, side: 3 },
      { x: 5, y: 3, side: 1 },
    ]) {
      expect(Math.abs(meanLight(at300, place) - meanLight(at100, place))).toBeLessThan(0.002);
    }
  });

  it('draws its letters: the title strip holds ink, its surroundings none', () => {
    const ink = (area: RectangleMm): number =>
      [...coloursInside(at300, area)].filter((colour) => Number(colour.split(',')[1]) < 128).length;
    expect(ink({ x: 28.2, y: 89.5, width: 38, height: 3.4 })).toBeGreaterThan(5);
    expect(ink({ x: 70, y: 89.5, width: 35, height: 3.4 })).toBe(0);
  });

  it('has the same bytes each time', async () => {
    expect((await cardPng(card, 90)).equals(await cardPng(card, 90))).toBe(true);
  });

  it.each([71, 1201, 300.5, 0, -300, Number.NaN, Number.POSITIVE_INFINITY])('refuses %f dpi', async (dpi) => {
    await expect(cardPng(card, dpi)).rejects.toThrow(
      `Expected a whole number of dpi from ${CARD_PNG_DPI.least} to ${CARD_PNG_DPI.most} but received ${dpi}`,
    );
  });
});
