import { describe, expect, it } from 'vitest';
import { openCvKernel } from '../../../../server/adapters/vision/open-cv-kernel.ts';
import type { FaultCode, Outcome } from '../../../../server/domain/index.ts';
import { surfacePoint } from '../../../../server/domain/index.ts';
import { CARD_HEIGHT_MM, CARD_WIDTH_MM } from '../../../../server/measure/card/card-grid.ts';
import { locateCard } from '../../../../server/measure/card/locate-card.ts';
import type { LocatedCard } from '../../../../server/measure/card/locate-card.ts';
import { tiltOf } from '../../../../server/measure/card/card-pose.ts';
import { project } from '../../../../server/measure/geometry/homography.ts';
import { pixelsPerUnit } from '../../../../server/measure/geometry/photo-map.ts';
import { scaleUncertainty } from '../../../../server/measure/geometry/scale-uncertainty.ts';
import { encodedRgbRaster } from '../../../../server/measure/raster/rgb-raster.ts';
import type { EncodedRgbRaster } from '../../../../server/measure/raster/rgb-raster.ts';
import type { CardView } from '../../../support/picture-of-card.ts';
import { pictureOfCard, pinholeView } from '../../../support/picture-of-card.ts';
import { seededRandom } from '../../../support/seeded-random.ts';

const kernel = openCvKernel();
const size = { width: 720, height: 560 };
const degrees = Math.PI / 180;

interface Pose {
  readonly cardWidthPx?: number;
  readonly tiltDegrees?: number;
  readonly azimuthDegrees?: number;
  readonly rollDegrees?: number;
}

const viewOf = ({ cardWidthPx = 380, tiltDegrees = 0, azimuthDegrees = 0, rollDegrees = 0 }: Pose): CardView => ({
  ...size,
  toPhoto: pinholeView({
    ...size,
    cardWidthPx,
    tilt: tiltDegrees * degrees,
    azimuth: azimuthDegrees * degrees,
    roll: rollDegrees * degrees,
    focalPx: 0.73 * size.width,
  }),
});

const cornersMm = [
  surfacePoint(0, 0),
  surfacePoint(CARD_WIDTH_MM, 0),
  surfacePoint(CARD_WIDTH_MM, CARD_HEIGHT_MM),
  surfacePoint(0, CARD_HEIGHT_MM),
];

function found(outcome: Outcome<LocatedCard | null>): LocatedCard {
  if (!outcome.ok) throw new Error(`expected a card but got ${JSON.stringify(outcome.fault)}`);
  if (outcome.value === null) throw new Error('expected a card but none was found');
  return outcome.value;
}

function answer(outcome: Outcome<LocatedCard | null>): FaultCode | 'no card' | 'card' {
  if (!outcome.ok) return outcome.fault.code;
  return outcome.value === null ? 'no card' : 'card';
}

const near = (value: number, digits: number): unknown => expect.closeTo(value, digits);

/** How far the found outline is from where the picture was drawn, worst corner, px. */
function worstCornerPx(located: LocatedCard, view: CardView): number {
  return Math.max(
    ...cornersMm.map((corner, i) => {
      const [x, y] = project(view.toPhoto, corner);
      return Math.hypot(located.outline[i][0] - x, located.outline[i][1] - y);
    }),
  );
}

/** Darkens or lightens a rectangle of the card's plane, mm. */
const over =
  (box: { x0: number; y0: number; x1: number; y1: number }, change: (light: number) => number) =>
  (x: number, y: number, light: number): number =>
    x >= box.x0 && x < box.x1 && y >= box.y0 && y < box.y1 ? change(light) : light;

const TOP_RIGHT_MARKER = { x0: 126, y0: 0, x1: 152.4, y1: 26 };
const BOTTOM_LEFT_MARKER = { x0: 0, y0: 75, x1: 26, y1: 101.6 };

/** Copies a picture with every pixel taken from elsewhere, in linear steps between pixels left out: nearest pixel. */
function warped(from: EncodedRgbRaster, source: (x: number, y: number) => readonly [number, number]): EncodedRgbRaster {
  const pixels = new Uint8Array(from.pixels.length);
  for (let y = 0, i = 0; y < from.height; y++) {
    for (let x = 0; x < from.width; x++, i += 3) {
      const [u, v] = source(x + 0.5, y + 0.5);
      const px = Math.min(Math.max(u - 0.5, 0), from.width - 1.001);
      const py = Math.min(Math.max(v - 0.5, 0), from.height - 1.001);
      const [column, row] = [Math.floor(px), Math.floor(py)];
      const [fx, fy] = [px - column, py - row];
      for (let k = 0; k < 3; k++) {
        const at = 3 * (row * from.width + column) + k;
        const upper = from.pixels[at] * (1 - fx) + from.pixels[at + 3] * fx;
        const lower = from.pixels[at + 3 * from.width] * (1 - fx) + from.pixels[at + 3 * from.width + 3] * fx;
        pixels[i + k] = Math.round(upper * (1 - fy) + lower * fy);
      }
    }
  }
  return encodedRgbRaster(from.width, from.height, pixels);
}

/** Two pictures of the same height side by side. */
function sideBySide(left: EncodedRgbRaster, right: EncodedRgbRaster): EncodedRgbRaster {
  const width = left.width + right.width;
  const pixels = new Uint8Array(3 * width * left.height);
  for (let y = 0; y < left.height; y++) {
    pixels.set(left.pixels.subarray(3 * y * left.width, 3 * (y + 1) * left.width), 3 * y * width);
    pixels.set(right.pixels.subarray(3 * y * right.width, 3 * (y + 1) * right.width), 3 * (y * width + left.width));
  }
  return encodedRgbRaster(width, left.height, pixels);
}

describe('a card in view', () => {
  const poses: Pose[] = [
    {},
    { rollDegrees: 180 },
    { tiltDegrees: 20, azimuthDegrees: 40, rollDegrees: 90 },
    { tiltDegrees: 35, azimuthDegrees: -70, rollDegrees: 217 },
    { tiltDegrees: 50, azimuthDegrees: 0, rollDegrees: 31 },
    { tiltDegrees: 50, azimuthDegrees: 90, rollDegrees: -64 },
  ];
  it.each(poses)('is found to a third of a pixel at %o', async (pose) => {
    const view = viewOf(pose);
    const located = found(locateCard(await pictureOfCard(view), kernel));
    expect(located.markersRead).toBe(4);
    expect(worstCornerPx(located, view)).toBeLessThan(0.34);
    expect(Math.abs(tiltOf(located.map.toIdeal, size) - (pose.tiltDegrees ?? 0))).toBeLessThan(3);
  });

  it('is found at 250 px width, tilted by 50 degrees', async () => {
    const view = viewOf({ cardWidthPx: 250, tiltDegrees: 50, azimuthDegrees: 60, rollDegrees: 20 });
    expect(worstCornerPx(found(locateCard(await pictureOfCard(view), kernel)), view)).toBeLessThan(0.5);
  });

  it.each([-2, -1, 1, 2])('is found at %d EV', async (ev) => {
    const view = { ...viewOf({ tiltDegrees: 15, rollDegrees: 10 }), exposure: 2 ** ev };
    // Overexposed white spreads into the black; the growth of all squares takes most of it out.
    expect(worstCornerPx(found(locateCard(await pictureOfCard(view), kernel)), view)).toBeLessThan(0.6);
  });

  it('is found with one marker hidden', async () => {
    const view = { ...viewOf({ tiltDegrees: 20, rollDegrees: 40 }), paint: over(TOP_RIGHT_MARKER, () => 0.3) };
    const located = found(locateCard(await pictureOfCard(view), kernel));
    expect(located.markersRead).toBe(3);
    expect(worstCornerPx(located, view)).toBeLessThan(0.6);
  });

  it('is found with the edge of a hard shadow across it and specks of dirt', async () => {
    const random = seededRandom(8);
    const specks = Array.from({ length: 8 }, () => [150 * random(), 100 * random()] as const);
    const view = {
      ...viewOf({ tiltDegrees: 20, rollDegrees: -30 }),
      paint: (x: number, y: number, light: number): number => {
        const lit = x + 0.7 * y < 95 ? light : 0.35 * light;
        for (const [sx, sy] of specks) if ((x - sx) ** 2 + (y - sy) ** 2 < 2) return 0.3 * lit;
        return lit;
      },
    };
    expect(worstCornerPx(found(locateCard(await pictureOfCard(view), kernel)), view)).toBeLessThan(0.6);
  });

  it('has the same outline, turned, when the photo is turned by a half', async () => {
    const photo = await pictureOfCard(viewOf({ tiltDegrees: 25, azimuthDegrees: 30 }));
    const upright = found(locateCard(photo, kernel));
    const turned = found(
      locateCard(
        warped(photo, (x, y) => [photo.width - x, photo.height - y]),
        kernel,
      ),
    );
    upright.outline.forEach(([x, y], i) => {
      expect(
        Math.hypot(turned.outline[i][0] - (photo.width - x), turned.outline[i][1] - (photo.height - y)),
      ).toBeLessThan(0.1);
    });
  });

  it('gives a scale that is right within its own uncertainty, which grows away from the card', async () => {
    const view = viewOf({ tiltDegrees: 30, azimuthDegrees: 20, rollDegrees: 8, cardWidthPx: 300 });
    const located = found(locateCard(await pictureOfCard(view), kernel));
    const exact = (x: number, y: number): number => {
      const at = (dx: number, dy: number): readonly number[] => project(view.toPhoto, surfacePoint(x + dx, y + dy));
      const [ax, ay] = [at(0.5, 0)[0] - at(-0.5, 0)[0], at(0.5, 0)[1] - at(-0.5, 0)[1]];
      const [bx, by] = [at(0, 0.5)[0] - at(0, -0.5)[0], at(0, 0.5)[1] - at(0, -0.5)[1]];
      return Math.sqrt(Math.abs(ax * by - ay * bx));
    };
    const sigmas = [76, 180, 260].map((x) => {
      const at = surfacePoint(x, 50);
      const sigma = scaleUncertainty(located, at);
      expect(Math.abs(pixelsPerUnit(located.map, at) / exact(x, 50) - 1)).toBeLessThan(3 * sigma);
      return sigma;
    });
    expect(sigmas[1]).toBeGreaterThan(sigmas[0]);
    expect(sigmas[2]).toBeGreaterThan(sigmas[1]);
    expect(sigmas[2]).toBeLessThan(0.02);
  });
});

describe('a card that cannot be used', () => {
  it('is said to be incomplete with two markers hidden', async () => {
    const hideOne = over(TOP_RIGHT_MARKER, () => 0.3);
    const hideOther = over(BOTTOM_LEFT_MARKER, () => 0.3);
    const view = {
      ...viewOf({ rollDegrees: 12 }),
      paint: (x: number, y: number, light: number) => hideOther(x, y, hideOne(x, y, light)),
    };
    const outcome = locateCard(await pictureOfCard(view), kernel);
    expect(outcome.ok || outcome.fault).toEqual({ code: 'card-incomplete', markersSeen: 2, markersNeeded: 3 });
  });

  it('is said to be cropped when it runs out of the photo, and by how much', async () => {
    const { toPhoto } = viewOf({});
    // 45 px, 18 mm, of the card's right side are beyond the frame.
    const [right] = project(toPhoto, cornersMm[1]);
    const photo = await pictureOfCard({ width: Math.round(right - 45), height: size.height, toPhoto });
    const outcome = locateCard(photo, kernel);
    expect(outcome.ok || outcome.fault.code).toBe('card-cropped');
    const outsideMm = !outcome.ok && outcome.fault.code === 'card-cropped' ? outcome.fault.outsideMm : NaN;
    // Two unrefined markers at the far end say it to a few millimetres.
    expect(Math.abs(outsideMm - (45 * CARD_WIDTH_MM) / 380)).toBeLessThan(4);
  });

  it('is one too many when two are in view', async () => {
    const small = { ...viewOf({ cardWidthPx: 300 }), width: 360, height: 400 };
    const at = (tilt: number): CardView => ({
      ...small,
      toPhoto: pinholeView({ ...small, cardWidthPx: 300, tilt, azimuth: 1, roll: 0.1, focalPx: 500 }),
    });
    const photo = sideBySide(await pictureOfCard(at(0.1)), await pictureOfCard(at(0.3)));
    const outcome = locateCard(photo, kernel);
    expect(outcome.ok || outcome.fault).toEqual({ code: 'card-several', count: 2 });
  });

  it('is foreign when its markers are in no edition of the code book', async () => {
    // A ring of white round a black core: no code is that symmetric, as each differs from its own turns.
    const isWhite = (column: number, row: number): boolean => Math.max(Math.abs(column - 2), Math.abs(row - 2)) === 1;
    const paint = (x: number, y: number, light: number): number => {
      for (const mx of [6, 131.4]) {
        for (const my of [6, 80.6]) {
          const [column, row] = [Math.floor((x - mx) / 3), Math.floor((y - my) / 3)];
          if (column >= 0 && row >= 0 && column < 5 && row < 5) return isWhite(column, row) ? 1 : 0.02;
        }
      }
      return light;
    };
    const outcome = locateCard(await pictureOfCard({ ...viewOf({ rollDegrees: 25 }), paint }), kernel);
    expect(outcome.ok || outcome.fault).toEqual({ code: 'card-foreign', markersSeen: 4 });
  });

  it('is bent when its middle stands off the plane of its ends', async () => {
    const view = viewOf({ tiltDegrees: 40, azimuthDegrees: 90 });
    const photo = await pictureOfCard(view);
    const [left, right] = [
      project(view.toPhoto, surfacePoint(0, 50))[0],
      project(view.toPhoto, surfacePoint(152.4, 50))[0],
    ];
    // A sag of 10 mm seen under 40 degrees moves the middle by 10 sin 40 = 6.4 mm, 16 px, along the tilt.
    const bent = warped(photo, (x, y) => {
      const across = Math.min(1, Math.abs((2 * (x - left)) / (right - left) - 1));
      return [x, y - 16 * (1 - across * across)];
    });
    expect(answer(locateCard(bent, kernel))).toBe('card-curved');
  });

  it('is bent when it is kinked across', async () => {
    const photo = await pictureOfCard(viewOf({}));
    const kinked = warped(photo, (x, y) => [
      x + 0.06 * Math.max(0, y - photo.height / 2),
      y + 0.08 * Math.max(0, x - 330),
    ]);
    const outcome = answer(locateCard(kinked, kernel));
    expect(outcome).toBe('card-curved');
  });

  it('is too small below 160 px width', async () => {
    const outcome = locateCard(await pictureOfCard(viewOf({ cardWidthPx: 145 })), kernel);
    expect(outcome.ok || outcome.fault).toEqual({
      code: 'card-too-small',
      widthPx: near(145, -0.3),
      leastPx: 160,
    });
  });
});

describe('a photo without a card', () => {
  it('has none, be it plain or noise', () => {
    const plain = encodedRgbRaster(300, 200, new Uint8Array(3 * 300 * 200).fill(128));
    expect(answer(locateCard(plain, kernel))).toBe('no card');
    const random = seededRandom(4);
    const noise = encodedRgbRaster(
      300,
      200,
      Uint8Array.from({ length: 3 * 300 * 200 }, () => 256 * random()),
    );
    expect(answer(locateCard(noise, kernel))).toBe('no card');
  });
});
